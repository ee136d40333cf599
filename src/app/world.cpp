#include "app/world.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <iterator>
#include <memory>
#include <random>

#include "app/places.hpp"
#include "desk/backup.hpp"
#include "desk/lost_entries.hpp"
#include "desk/permission.hpp"
#include "desk/workshop.hpp"
#include "digest/hash.hpp"
#include "store/disk.hpp"

namespace wm::app {

namespace fs = std::filesystem;

namespace {

desk::Moment system_now() {
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    const std::time_t seconds = std::chrono::duration_cast<std::chrono::seconds>(now).count();
    std::tm local{};
    localtime_r(&seconds, &local);
    return {std::chrono::duration_cast<std::chrono::milliseconds>(now).count(),
            static_cast<int>(local.tm_gmtoff / 60)};
}

// Monotonic, and goes on while the machine sleeps; the kernel names each start.
std::optional<record::SinceBoot> system_since_boot() {
    timespec counted{};
    if (clock_gettime(CLOCK_BOOTTIME, &counted) != 0) return std::nullopt;
    std::ifstream in{"/proc/sys/kernel/random/boot_id"};
    record::SinceBoot since;
    if (!(in >> since.boot)) return std::nullopt;
    since.ms = static_cast<std::int64_t>(counted.tv_sec) * 1000 + counted.tv_nsec / 1'000'000;
    return since;
}

std::string system_random(std::size_t count) {
    std::random_device device;  // the kernel's source on this platform
    std::string bytes;
    while (bytes.size() < count) {
        const unsigned word = device();
        for (int shift = 0; shift < 32 && bytes.size() < count; shift += 8)
            bytes += static_cast<char>((word >> shift) & 0xFFU);
    }
    return bytes;
}

Problem not_written(const fs::path& file, std::string_view why) {
    return {fmt::format("The file was not written: {}.", why), file.string(),
            "Make room on the disk, or choose a folder you may write in.", ProblemKind::NotStored};
}

}  // namespace

std::int64_t machine_wall_ms() {
    return std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::system_clock::now().time_since_epoch()).count();
}

Result<World> world_for(const Arguments& arguments) {
    World world;
    world.now = system_now;
    world.since_boot = system_since_boot;
    if (arguments.has("at")) {
        const auto moment = desk::read_moment(arguments.value("at"));
        if (!moment)
            return refused({fmt::format("\"{}\" is no time.", arguments.value("at")), "--at",
                            "Write it with its zone, as 2027-03-04T09:10:00+02:00.", ProblemKind::WrongUse});
        world.now = [fixed = *moment] { return fixed; };
        world.since_boot = {};
        world.time_source = record::TimeSource::Hand;
    }
    world.random = system_random;
    world.data = arguments.has("data") ? fs::path{arguments.value("data")} : default_data();
    world.share = share_folder();
    world.person = arguments.value("person", environment("WITNESSMARK_PERSON"));
    world.pin_file = arguments.value("pin-file", environment("WITNESSMARK_PIN_FILE"));
    return world;
}

store::RandomBytes seeded_random(std::string seed) {
    return [seed = std::move(seed), block = std::make_shared<std::uint64_t>(0)](std::size_t count) {
        std::string bytes;
        while (bytes.size() < count) bytes += digest::sha256(fmt::format("{}/{}", seed, (*block)++));
        bytes.resize(count);
        return bytes;
    };
}

Result<std::string> read_file(const fs::path& file) {
    std::ifstream in{file, std::ios::binary};
    std::error_code problem;
    if (!in || fs::is_directory(file, problem))
        return refused({"The file cannot be read.", file.string(), "Check its name and whether you may read it.",
                        ProblemKind::Unreadable});
    return std::string{std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
}

namespace {

/// The new name survives a loss of power too. A file system that syncs no folders is left to its own way.
void sync_folder_of(const fs::path& file) {
    const fs::path folder = file.has_parent_path() ? file.parent_path() : fs::path{"."};
    const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0) return;
    static_cast<void>(::fsync(descriptor));
    ::close(descriptor);
}

}  // namespace

Result<void> write_file(const fs::path& file, std::string_view bytes) {
    std::error_code problem;
    if (file.has_parent_path()) fs::create_directories(file.parent_path(), problem);
    if (problem) return refused(not_written(file, problem.message()));
    fs::path partial = file;
    partial += ".new";
    const int out = ::open(partial.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
    if (out < 0) return refused(not_written(file, "it cannot be opened for writing"));
    bool fine = true;
    for (std::size_t at = 0; fine && at < bytes.size();) {
        const ssize_t n = ::write(out, bytes.data() + at, bytes.size() - at);
        if (n < 0 && errno == EINTR) continue;
        fine = n > 0;
        if (fine) at += static_cast<std::size_t>(n);
    }
    fine = fine && ::fsync(out) == 0;
    fine = ::close(out) == 0 && fine;
    if (fine) fs::rename(partial, file, problem);
    if (fine && !problem) {
        sync_folder_of(file);
        return {};
    }
    std::error_code ignored;
    fs::remove(partial, ignored);
    return refused(not_written(file, problem ? problem.message() : "the disk did not take all of it"));
}

Result<desk::LibraryTexts> library_texts(const World& world) {
    desk::LibraryTexts texts;
    const fs::path folder = world.share / "checklists";
    std::error_code problem;
    for (const auto& entry : fs::directory_iterator{folder, problem}) {
        if (entry.path().extension() != ".toml") continue;
        auto text = read_file(entry.path());
        if (!text) return tl::unexpected(text.error());
        texts.emplace(entry.path().filename().string(), std::move(*text));
    }
    if (problem || texts.empty())
        return refused({"The folder of checklists cannot be read.", folder.string(),
                        "Start the program from where it was installed, or set WITNESSMARK_SHARE to its share folder.",
                        ProblemKind::Unreadable});
    // Lists of earlier releases that jobs may pin, by their hash.
    for (const auto& entry : fs::directory_iterator{folder / "pins", problem}) {
        auto text = read_file(entry.path());
        if (!text) return tl::unexpected(text.error());
        texts.emplace("pins/" + entry.path().filename().string(), std::move(*text));
    }
    // The company's own versions go before those of the program.
    auto published = desk::published_here(world.data, store::system_disk());
    if (!published) return tl::unexpected(published.error());
    for (auto& [name, text] : *published) texts[name] = std::move(text);
    return texts;
}

namespace {

/// Every catalogue that is there, by its name: "de.mo".
Result<std::map<std::string, language::Language, std::less<>>> catalogues_in(const fs::path& folder) {
    std::map<std::string, language::Language, std::less<>> all;
    std::error_code problem;
    for (const auto& entry : fs::directory_iterator{folder, problem}) {
        if (entry.path().extension() != ".mo") continue;
        const auto bytes = read_file(entry.path());
        if (!bytes) return tl::unexpected(bytes.error());
        const std::string code = entry.path().stem().string();
        auto opened = language::Language::opened(code, *bytes);
        if (!opened) {
            Problem told_where = opened.error();
            told_where.where = entry.path().string();
            return refused(std::move(told_where));
        }
        all.emplace(code, std::move(*opened));
    }
    return all;
}

}  // namespace

Result<desk::Setup> setup_for(const World& world, desk::Access access) {
    auto texts = library_texts(world);
    if (!texts) return tl::unexpected(texts.error());
    desk::Setup setup{.data = world.data,
                      .library = std::move(*texts),
                      .now = world.now,
                      .random = world.random,
                      .company = "Witnessmark",
                      .company_contact = "",
                      .fingerprint_published = "",
                      .mail_from = "office@witnessmark.example",
                      .access = access,
                      .stamp_server = "",
                      .paper = handover::PaperSize::A4,
                      .stamp_ca = ""};
    setup.since_boot = world.since_boot;
    setup.time_source = world.time_source;
    setup.patience_ms = 5000;  // another command is done by then; a window is not
    setup.fonts = handover::fonts_in(font_folder(world.share).string());
    auto languages = catalogues_in(language_folder(world.share));
    if (!languages) return tl::unexpected(languages.error());
    setup.languages = std::move(*languages);
    const fs::path file = settings_file(world.data, "settings.toml");
    std::error_code problem;
    if (!fs::exists(file, problem)) return setup;
    const auto text = read_file(file);
    if (!text) return tl::unexpected(text.error());
    const auto read = checklist::read_document(*text, file.native());
    if (!read) {
        Problem problem_told = read.error();
        problem_told.what_to_do = "Mend that line, or move the file away to go on with the defaults.";
        return refused(std::move(problem_told));
    }
    setup.company = word_at(*read, "company", "name", setup.company);
    setup.company_contact = word_at(*read, "company", "contact", setup.company_contact);
    setup.fingerprint_published = word_at(*read, "company", "fingerprint_published", setup.fingerprint_published);
    if (word_at(*read, "report", "paper", "a4") == "letter") setup.paper = handover::PaperSize::Letter;
    setup.stamp_server = word_at(*read, "stamp", "server", "");
    setup.stamp_ca = word_at(*read, "stamp", "ca", "");
    if (const auto folder = word_at(*read, "backup", "folder", ""); !folder.empty()) setup.backups = folder;
    if (const auto secret = word_at(*read, "backup", "password_file", ""); !secret.empty()) {
        const auto words = read_file(secret);
        // Without it the backup is made all the same, and keeps the keys that sign out.
        if (words) setup.backup_passphrase = words->substr(0, words->find_first_of("\r\n"));
        else *world.told += fmt::format("The passphrase of the backups cannot be read: {}\n", secret);
    }
    setup.mail_from = word_at(*read, "mail", "from", setup.mail_from);
    return setup;
}

std::string word_at(const checklist::Item& document, std::string_view table, std::string_view key,
                    std::string otherwise) {
    const auto* found = document.find(table);
    const auto* item = found == nullptr ? nullptr : found->find(key);
    return item != nullptr && item->type == checklist::ItemType::Text ? item->text : std::move(otherwise);
}

namespace {

Result<void> let_in(desk::Setup& setup, store::People& people, const World& world, const std::string& name, std::string_view pin) {
    auto in = people.unlocked(name, pin, world.wall_ms());
    if (!in) return tl::unexpected(in.error());
    setup.sealing_key = std::move(in->sealing_key);
    setup.person = std::move(in->person);
    return {};
}

/// With the PIN of the file that was named.
Result<void> let_in_by_file(desk::Setup& setup, store::People& people, const World& world) {
    auto pin = read_file(world.pin_file);
    if (!pin) return tl::unexpected(pin.error());
    pin->resize(std::min(pin->size(), pin->find_first_of("\r\n")));
    auto done = let_in(setup, people, world, world.person, *pin);
    digest::wipe(*pin);
    return done;
}

}  // namespace

Result<void> must_be_lead(const World& world, std::string_view act) {
    auto people = store::People::read(world.data);
    if (!people || people->empty()) return {};
    if (world.pin_file.empty())
        return refused({"Persons have PINs here, and none was given.", "access",
                        fmt::format("Let a lead {}: --person NAME --pin-file FILE.", act), ProblemKind::Refused});
    desk::Setup setup;
    const auto done = let_in_by_file(setup, *people, world);
    digest::wipe(setup.sealing_key);
    if (!done) return done;
    return desk::may(setup, store::Role::Lead, act);
}

Result<desk::Desk> desk_of_person(const World& world, const std::string& name, std::string_view pin) {
    auto setup = setup_for(world, desk::Access::Write);
    if (!setup) return tl::unexpected(setup.error());
    auto people = store::People::read(world.data);
    if (!people) return tl::unexpected(people.error());
    if (auto done = let_in(*setup, *people, world, name, pin); !done) return tl::unexpected(done.error());
    return desk::Desk::open(std::move(*setup));
}

Result<desk::Desk> open_desk(const World& world, desk::Access access, const std::string& stamp_server, Daily daily) {
    auto setup = setup_for(world, access);
    if (!setup) return tl::unexpected(setup.error());
    if (!stamp_server.empty()) setup->stamp_server = stamp_server;
    auto people = store::People::read(world.data);
    if (!people) return tl::unexpected(people.error());
    if (!people->empty() && !world.pin_file.empty())
        if (const auto done = let_in_by_file(*setup, *people, world); !done) return tl::unexpected(done.error());
    auto desk = desk::Desk::open(std::move(*setup));
    if (desk && desk->journal().lost_at_opening()) {
        const auto lost = desk::words_on_loss(*desk, *desk->journal().lost_at_opening());
        *world.told += fmt::format("{} ({}) {}\n", lost.what, lost.where, lost.what_to_do);
    }
    if (desk && access == desk::Access::Write && daily == Daily::BackUp)
        if (const auto made = desk::back_up_if_due(*desk); !made)
            *world.told += fmt::format("The backup of this day was not made: {} ({}) {}\n", made.error().what, made.error().where,
                                       made.error().what_to_do);
    return desk;
}

}  // namespace wm::app
