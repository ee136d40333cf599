// Opening the window: settings in, a worker behind it, and what it keeps of itself.
#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <ctime>
#include <future>

#include "app/commands.hpp"
#include "app/desk_worker.hpp"
#include "app/half_typed.hpp"
#include "app/places.hpp"
#include "app/sounds.hpp"
#include "app/window_settings.hpp"
#include "desk/registers.hpp"
#include "screens/window.hpp"
#include "units/reading.hpp"

namespace wm::app {

namespace {

/// Time asleep counts: a tablet that wakes up in other hands is locked.
double seconds_running() {
    timespec counted{};
    clock_gettime(CLOCK_BOOTTIME, &counted);
    return static_cast<double>(counted.tv_sec) + static_cast<double>(counted.tv_nsec) * 1e-9;
}

std::optional<screens::Screen> screen_named(const std::string& name) {
    const std::pair<const char*, screens::Screen> names[] = {
        {"jobs", screens::Screen::Jobs},     {"run", screens::Screen::Run},   {"sign", screens::Screen::SignOff},
        {"outbox", screens::Screen::Outbox}, {"week", screens::Screen::Week}, {"settings", screens::Screen::Settings}};
    for (const auto& [word, screen] : names)
        if (name == word) return screen;
    return std::nullopt;
}

/// What is shown first: the check itself, why and how, what was entered, the drawing alone, the parts from the store or the facts of the house.
std::optional<screens::RunMode> mode_named(std::string_view word) {
    if (word.empty()) return screens::RunMode::Reading;
    if (word == "how") return screens::RunMode::Help;
    if (word == "entries") return screens::RunMode::Record;
    if (word == "plant") return screens::RunMode::Plant;
    if (word == "parts") return screens::RunMode::Parts;
    if (word == "house") return screens::RunMode::House;
    return std::nullopt;
}

Result<screens::WindowOptions> options_from(const Arguments& arguments, const World& world) {
    screens::WindowOptions options;
    const auto settings = read_window_settings(world.data);
    options.look = settings.look;
    options.sound = settings.sound;
    options.text_percent = settings.text_percent;
    options.lock_minutes = settings.lock_minutes;
    options.px_per_mm = settings.px_per_mm;
    if (const auto name = arguments.value("screen"); !name.empty()) {
        const auto screen = screen_named(name);
        if (!screen)
            return refused({fmt::format("There is no screen \"{}\".", name), "window",
                            "Use jobs, run, sign, outbox, week or settings.", ProblemKind::WrongUse});
        options.first_screen = *screen;
    }
    if (const auto name = arguments.value("theme"); !name.empty()) {
        const auto look = look_named(name);
        if (!look)
            return refused({fmt::format("There is no theme \"{}\".", name), "window", "Use day, night or sun.",
                            ProblemKind::WrongUse});
        options.look = *look;
    }
    if (const auto size = arguments.value("size"); !size.empty()) {
        const auto x = size.find('x');
        int width = 0;
        int height = 0;
        if (x != std::string::npos) {
            std::from_chars(size.data(), size.data() + x, width);
            std::from_chars(size.data() + x + 1, size.data() + size.size(), height);
        }
        if (width < 320 || height < 320 || width > 8000 || height > 8000)
            return refused({fmt::format("\"{}\" is no size of a window.", size), "window", "Write it as 1280x800.",
                            ProblemKind::WrongUse});
        options.width = width;
        options.height = height;
    }
    if (const auto sound = arguments.value("sound"); !sound.empty()) {
        if (sound != "on" && sound != "off")
            return refused({fmt::format("\"{}\" is neither on nor off.", sound), "window", "Use on or off.", ProblemKind::WrongUse});
        options.sound = sound == "on" ? screens::Sound::On : screens::Sound::Off;
    }
    if (const auto text = arguments.value("text"); !text.empty()) {
        int percent = 0;
        std::from_chars(text.data(), text.data() + text.size(), percent);
        if (percent < 100 || percent > 200)
            return refused({fmt::format("\"{}\" is no text size.", text), "window", "Use 100 to 200.", ProblemKind::WrongUse});
        options.text_percent = percent;
    }
    if (const auto lock = arguments.value("lock-after"); !lock.empty()) {
        int minutes = -1;
        std::from_chars(lock.data(), lock.data() + lock.size(), minutes);
        if (minutes < 0 || minutes > 600)
            return refused({fmt::format("\"{}\" is no time after which the window locks.", lock), "window",
                            "Give minutes, 0 to 600; 0 = never.", ProblemKind::WrongUse});
        const auto people = store::People::read(world.data);
        if (people && !people->empty() && stays_open_longer(minutes, settings.lock_minutes))
            if (const auto fine = must_be_lead(world, let_it_stay_open); !fine) return tl::unexpected(fine.error());
        options.lock_minutes = minutes;
    }
    if (const auto scale = arguments.value("scale"); !scale.empty()) {
        const auto px_per_mm = units::read_number(scale);
        if (!px_per_mm || *px_per_mm < 1.0 || *px_per_mm > 40.0)
            return refused({fmt::format("\"{}\" is no scale of a panel.", scale), "window",
                            "Give pixels per millimetre, 1 to 40: the width in pixels over the width of the glass.",
                            ProblemKind::WrongUse});
        options.px_per_mm = static_cast<float>(*px_per_mm);
    }
    const bool workshop = arguments.value("show") == "workshop";
    if (workshop) options.on_bench = desk::DraftStep{arguments.value("checklist", "commissioning"), arguments.value("check"), desk::DraftStep::Deed::Look, "", ""};
    options.days_ahead = arguments.value("show") == "days";
    options.first_register = desk::register_named(arguments.value("show"));
    const auto mode = workshop || options.days_ahead || options.first_register ? std::optional{screens::RunMode::Reading} : mode_named(arguments.value("show"));
    if (!mode)
        return refused({fmt::format("There is no view \"{}\" of a check.", arguments.value("show")), "window", "Use how, entries, plant, parts, house, days, instruments, people, checklists or workshop.",
                        ProblemKind::WrongUse});
    if (arguments.has("job"))
        options.first_check = screens::WantedCheck{arguments.value("job"), arguments.value("check"), *mode};
    // Whoever names a job means it, and not the list it stands in.
    if (options.first_check && !arguments.has("screen")) options.first_screen = screens::Screen::Run;
    options.picture_to = arguments.value("picture");
    const std::filesystem::path folder = font_folder(world.share);
    auto regular = read_file(folder / "DejaVuSans.ttf");
    if (!regular) return tl::unexpected(regular.error());
    auto bold = read_file(folder / "DejaVuSans-Bold.ttf");
    if (!bold) return tl::unexpected(bold.error());
    options.fonts = {std::move(*regular), std::move(*bold)};
    return options;
}

/// From the root on, without a slash at its end; empty where none is named.
Result<std::string> photo_folder_from(const Arguments& arguments) {
    const auto named = arguments.value("photos");
    if (named.empty()) return std::string{};
    std::error_code problem;
    auto folder = std::filesystem::absolute(named, problem).lexically_normal();
    if (!folder.has_filename()) folder = folder.parent_path();
    if (problem || !std::filesystem::is_directory(folder, problem))
        return refused({fmt::format("There is no folder \"{}\".", named), "window", "Name the folder that holds the pictures, as /media/orla/CARD/DCIM.",
                        ProblemKind::WrongUse});
    return folder.string();
}

}  // namespace

Output run_window_command(const Arguments& arguments, const World& world) {
    auto options = options_from(arguments, world);
    if (!options) return told_as(options.error(), form_of(arguments));
    const auto photos = photo_folder_from(arguments);
    if (!photos) return told_as(photos.error(), form_of(arguments));
    const auto people = store::People::read(world.data);
    if (!people) return told_as(people.error(), form_of(arguments));
    const bool starts_locked = !people->empty() && world.pin_file.empty();
    // Beside the window, which takes its time to open. The worker makes the backup: the first frame need not wait for it.
    std::future<Result<desk::Desk>> opening;
    if (!starts_locked)
        opening = std::async(std::launch::async, [&world] { return open_desk(world, desk::Access::Write, "", Daily::LeaveOut); });
    screens::World start;
    start.listed = starts_locked;
    for (const auto& person : people->all()) start.lock.people.push_back({person.name, std::string{store::word_of(person.role)}, 0});
    start.facts_folder = (world.data / "facts").string();
    start.photos.folder = (world.data / "photos").string();
    if (const auto text = read_file(world.data / "running-series.txt"))
        if (auto runs = screens::read_runs(*text)) options->running = std::move(*runs);
    if (!arguments.has("job") && !arguments.has("screen"))
        if (const auto text = read_file(world.data / "open-job.txt")) options->resume = *text;
    // What was being typed is where the person was.
    if (const auto typed = place_of_half_typed(world.data); typed && !options->first_check) {
        const bool is_call = typed->check == screens::call_words || typed->check == screens::closing_words;
        const bool signs = typed->check == screens::signing_words;
        if (is_call) options->resume.clear();
        else options->first_check = screens::WantedCheck{typed->job, signs ? std::string{} : typed->check, screens::RunMode::Reading};
        if (!arguments.has("screen"))
            options->first_screen = is_call ? screens::Screen::Jobs : signs ? screens::Screen::SignOff : screens::Screen::Run;
    }

    const auto pin_clock = [&world] {
        auto now = world.now();
        now.wall_ms = world.wall_ms();
        return now;
    };
    std::optional<DeskWorker> worker;
    int pending = 0;
    const auto ask = [&](const screens::Request& request) {
        ++pending;
        worker->post(request);
    };
    // What was asked for at the start is shown once somebody is there.
    const auto ask_first = [&] {
        if (options->first_check) ask(screens::OpenJobView{options->first_check->job});
        if (options->first_screen == screens::Screen::Week) ask(screens::AskWeek{});
        if (!photos->empty()) ask(screens::ChoosePhotoFolder{*photos});
    };
    int unlocked = 0;
    Speaker speaker{play_tone};
    screens::Sound heard = options->sound;
    screens::PicturePlace picture_place = read_window_settings(world.data).picture_place;
    std::optional<std::string> opened;
    bool first = true;
    const screens::Link link{
        .ready = [&]() -> Result<void> {
            std::optional<desk::Desk> desk;
            if (!starts_locked) {
                auto opened_desk = opening.get();
                if (!opened_desk) return tl::unexpected(opened_desk.error());
                desk = std::move(*opened_desk);
                if (desk->setup().person) start.lock.person = desk->setup().person->name;
            }
            worker.emplace(std::move(desk),
                           WorkerPlaces{.data = world.data,
                                        .photos = world.data / "photos",
                                        .facts = world.data / "facts",
                                        .now = pin_clock,
                                        .chosen_photos = read_window_settings(world.data).photos,
                                        .media = media_roots()},
                           [] { screens::wake_window(); },
                           [&world](const std::string& name, std::string_view pin) { return desk_of_person(world, name, pin); });
            if (!starts_locked) ask_first();
            return {};
        },
        .refresh =
            [&](screens::World& shown) {
                if (first) {
                    shown = start;
                    first = false;
                }
                for (auto& news : worker->news()) {
                    if (news.job) opened = news.job->row.job;
                    take_in(shown, news, pending);
                }
                if (starts_locked && unlocked == 0 && shown.lock.unlocked > 0) ask_first();
                unlocked = shown.lock.unlocked;
                const auto now = world.now();
                shown.moment = {desk::text_of(now), now.wall_ms / 1000, seconds_running()};
                shown.saving = pending > 0;
                shown.picture_place = picture_place;
            },
        .post =
            [&](const screens::Request& request) {
                // Only tones are this thread's own: whatever touches the disk goes to the worker, for the disk may hang.
                if (const auto* told = std::get_if<screens::RingTone>(&request)) {
                    if (heard == screens::Sound::On) speaker.ring(told->tone);
                    return;
                }
                if (const auto* sound = std::get_if<screens::ChooseSound>(&request)) {
                    heard = sound->sound;
                    if (heard == screens::Sound::On) speaker.ring(Tone::Conforms);
                }
                if (const auto* place = std::get_if<screens::ChoosePicturePlace>(&request)) picture_place = place->place;
                ask(request);
            }};
    const auto done = screens::run_window(*options, link);
    return done ? Output{} : told_as(done.error(), form_of(arguments));
}

}  // namespace wm::app
