// Key press to the next check drawn, on a disk that takes 20 ms for each sync, while pictures are stored.
#include <iostream>
#include <thread>

#include "app/desk_worker.hpp"
#include "bench/benches.hpp"
#include "bench/many_jobs.hpp"
#include "bench/timing.hpp"
#include "demo/house.hpp"
#include "demo/one_job.hpp"
#include "desk/backup.hpp"
#include "screens/testing.hpp"
#include "store/gated_disk.hpp"

namespace wm::bench {

namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

double since(Clock::time_point start) { return std::chrono::duration<double, std::nano>(Clock::now() - start).count(); }

class Window {
public:
    Window(desk::Desk desk, const fs::path& data)
        : worker_{std::move(desk), {.data = data, .photos = data, .facts = data}, [] {}} {
        glass.desk_answers = false;
        glass.world = {};
        glass.world.moment = {"2026-11-27T09:00:00+00:00", 1'795'770'000, 100.0};
    }
    /// One frame as the window draws it, until its draw data are complete.
    void frame() {
        const auto start = Clock::now();
        glass.world.moment.monotonic_s = 100.0 + since(begin_) * 1e-9 * 3.0;  // a patient hand: no key counts as a bounce
        for (auto& news : worker_.news()) take_in(glass.world, news, pending);
        for (const auto& request : glass.frame())
            // No hand leafs through a hundred checks in a second: where it stands would be all that is ever written.
            if (!std::holds_alternative<screens::RingTone>(request) && !std::holds_alternative<screens::KeepNumber>(request)) ask(request);
        frames.push_back(since(start));
    }
    void ask(const screens::Request& request) {
        ++pending;
        worker_.post(request);
    }

    screens::testing::Glass glass{1280, 800, {}};
    int pending = 0;
    std::vector<double> frames;

private:
    Clock::time_point begin_ = Clock::now();
    app::DeskWorker worker_;
};

/// A picture stored with a reading, again and again: its file, its folder and the entry are synced each time.
screens::Request picture_reading(const std::string& job, const std::string& check, const std::string& text, const fs::path& picture) {
    return screens::WithPhoto{desk::TakeReading{.job = job, .check = check, .place = "", .text = text, .instrument = "", .photo = std::nullopt,
                                                .photo_name = "", .caption = "", .read_at = "", .by = "", .sure = true},
                              picture.string()};
}

desk::OpenJob demo_job() {
    return {.checklist = "commissioning", .facts_text = demo::facts_text(demo::demo_house(), demo::demo_crews().front()),
            .facts_name = "facts", .after = "", .practice = false};
}

/// Backups of today, of another folder: the first writing of the day, which would make one, is not what is measured.
fs::path backups_of_today(const fs::path& folder) {
    auto small = app::open_desk(world_of(folder), desk::Access::Write, "", app::Daily::LeaveOut);
    if (small && small->carry_out(demo_job())) keep(desk::back_up(*small));
    return folder / "backups";
}

}  // namespace

int slow_disk(const fs::path& data, double seconds) {
    int syncs = 0;
    store::testing::GatedDisk disk{[&] {
        ++syncs;
        std::this_thread::sleep_for(std::chrono::milliseconds{20});
    }};
    const auto picture = data / "bench.jpg";
    if (const auto done = app::write_file(picture, demo::picture_of("nut-marks", 1)); !done) return 4;
    auto world = world_of(data);
    auto setup = app::setup_for(world, desk::Access::Write);
    if (!setup) return 4;
    setup->disk = &disk;
    setup->backups = backups_of_today(data / "bench-small");
    auto desk = desk::Desk::open(std::move(*setup));
    if (!desk) {
        std::cerr << told(desk.error()) << "\n";
        return 4;
    }
    const auto job = desk->carry_out(demo_job());
    if (!job) {
        std::cerr << told(job.error()) << "\n";
        return 4;
    }
    Window window{std::move(*desk), data};
    window.ask(screens::OpenJobView{*job});
    window.glass.drafts.screen = screens::Screen::Run;
    window.glass.drafts.run.wanted = screens::WantedCheck{*job, "coll-tilt", screens::RunMode::Reading};
    while (window.pending > 0 || !window.glass.world.job || window.glass.drafts.run.check.empty()) {
        window.frame();
        std::this_thread::sleep_for(std::chrono::milliseconds{2});
    }
    window.frames.clear();
    const int syncs_before = syncs;
    std::vector<double> keys;
    int stored = 0;
    auto& io = ImGui::GetIO();
    const auto end = Clock::now() + std::chrono::duration<double>(seconds);
    // The first picture waits for the backup of the day; a run in which only that happened measured something else.
    const auto patience = end + std::chrono::seconds{60};
    for (int press = 0; Clock::now() < end || (stored < 3 && Clock::now() < patience); ++press) {
        // The writer always has a picture to store.
        if (window.pending == 0) {
            window.ask(picture_reading(*job, "coll-tilt", fmt::format("{}°", 34 + stored % 3), picture));
            ++stored;
        }
        for (int wait = 0; wait < 6; ++wait) {
            window.frame();
            std::this_thread::sleep_for(std::chrono::milliseconds{1});
        }
        const std::string before = window.glass.drafts.run.check;
        const int key = press / 40 % 2 == 0 ? GLFW_KEY_PAGE_DOWN : GLFW_KEY_PAGE_UP;
        const auto start = Clock::now();
        io.KeysDown[key] = true;
        // Until another check is at hand, and once more: that frame has drawn it whole.
        int tries = 0;
        while (window.glass.drafts.run.check == before && ++tries < 10) window.frame();
        window.frame();
        if (tries < 10) keys.push_back(since(start));
        io.KeysDown[key] = false;
        window.frame();
    }
    std::cerr << fmt::format("{} jobs in the list, {} keys, {} pictures stored, {} syncs of 20 ms\n", window.glass.world.jobs.size(), keys.size(), stored, syncs - syncs_before);
    if (keys.size() < 20 || stored < 2) return 1;
    tell(fmt::format("key to next check, {} jobs", window.glass.world.jobs.size()), keys);
    tell("every frame meanwhile", window.frames);
    // An answer whose next check comes once the desk has it on the disk: what the disk costs is in it.
    std::vector<double> answers;
    for (int i = 0; i < 8; ++i) {
        while (window.pending > 0) window.frame();
        const auto start = Clock::now();
        window.ask(desk::Intent{desk::TakeReading{.job = *job, .check = "coll-tilt", .place = "", .text = fmt::format("{}°", 34 + i % 3), .instrument = "",
                                                  .photo = std::nullopt, .photo_name = "", .caption = "", .read_at = "", .by = "", .sure = true}});
        while (window.pending > 0) window.frame();
        answers.push_back(since(start));
    }
    tell("answer to its saved mark", answers);
    return 0;
}

}  // namespace wm::bench
