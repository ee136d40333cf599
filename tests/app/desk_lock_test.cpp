// The window's worker with PINs: the desk goes and comes with the person.
#include "app/desk_worker.hpp"
#include "app/half_typed.hpp"
#include "app/testing.hpp"
#include "app/window_settings.hpp"

namespace wm::app {

using testing::Shell;

namespace {

World world_of(Shell& shell, std::int64_t* wall_ms) {
    Arguments arguments;
    arguments.options.emplace("data", shell.data().string());
    arguments.options.emplace("at", shell.at);
    auto world = *world_for(arguments);
    *wall_ms = world.now().wall_ms;
    world.now = [wall_ms] { return desk::Moment{*wall_ms, 300}; };
    world.wall_ms = [wall_ms] { return *wall_ms; };
    return world;
}

/// A window as its worker sees it: requests in, and what it would be shown when all of them are done.
class Window {
public:
    Window(Shell& shell, bool starts_locked) : world_{world_of(shell, wall_ms_.get())} {
        std::optional<desk::Desk> desk;
        if (!starts_locked) desk = std::move(*open_desk(world_, desk::Access::Write));
        worker_ = std::make_unique<DeskWorker>(
            std::move(desk), WorkerPlaces{world_.data, world_.data, world_.data, world_.now},
            [this] {
                const std::lock_guard lock{mutex_};
                ++woken_;
                changed_.notify_all();
            },
            [this](const std::string& name, std::string_view pin) { return desk_of_person(world_, name, pin); });
    }

    const screens::World& after(const screens::Request& request) {
        ++pending_;
        worker_->post(request);
        while (pending_ > 0) {
            for (auto& news : worker_->news()) take_in(shown_, news, pending_);
            std::unique_lock lock{mutex_};
            if (pending_ > 0) changed_.wait(lock, [&] { return woken_ != seen_; });
            seen_ = woken_;
        }
        return shown_;
    }
    void pass_seconds(int seconds) { *wall_ms_ += 1000 * seconds; }

private:
    std::shared_ptr<std::int64_t> wall_ms_ = std::make_shared<std::int64_t>(0);
    World world_;
    screens::World shown_;
    int pending_ = 0;
    std::mutex mutex_;
    std::condition_variable changed_;
    int woken_ = 0, seen_ = 0;
    std::unique_ptr<DeskWorker> worker_;
};

desk::TakeReading tilt(const std::string& job) { return {job, "coll-tilt", "", "35°", "", {}, "", "", "", "", false}; }

void give_pins(Shell& shell) {
    const auto owner = shell.write("owner.pin", "482913\n");
    REQUIRE(shell.run({"access", "add", "Ilka Marrowby", "--new-pin-file", owner}).code == 0);
    REQUIRE(shell.run({"access", "add", "Orla Finch", "--new-pin-file", shell.write("orla.pin", "775021\n"), "--person", "Ilka Marrowby",
                       "--pin-file", owner})
                .code == 0);
}

}  // namespace

TEST_CASE("a locked window does nothing but open, and says who is at work then") {
    Shell shell;
    const auto job = shell.open_job();
    give_pins(shell);
    Window window{shell, true};
    auto shown = window.after(desk::Intent{tilt(job)});
    REQUIRE(shown.problem);
    CHECK(shown.problem->what == "The window is locked, so this was not done.");
    CHECK(shown.jobs.empty());
    CHECK(shown.lock.people.size() == 2);
    CHECK(shown.lock.person.empty());
    shown = window.after(screens::Unlock{"Orla Finch", "482913"});
    CHECK(shown.lock.refused);
    CHECK(shown.lock.answer.starts_with("This is not the PIN of Orla Finch."));
    CHECK(shown.lock.person.empty());
    shown = window.after(screens::Unlock{"Orla Finch", "775021"});
    CHECK(shown.lock.person == "Orla Finch");
    CHECK(shown.lock.unlocked == 1);
    CHECK(shown.jobs.size() == 1);
    CHECK_FALSE(shown.settings.device.empty());
}

TEST_CASE("wrong PINs in the window wait as those on the command line do, and the two count together") {
    Shell shell;
    shell.open_job();
    give_pins(shell);
    const auto wrong = shell.write("wrong.pin", "111222\n");
    CHECK(shell.run({"job", "list", "--person", "Orla Finch", "--pin-file", wrong}).code == 1);
    Window window{shell, true};
    window.after(screens::Unlock{"Orla Finch", "1"});
    const auto shown = window.after(screens::Unlock{"Orla Finch", "2"});
    const auto* orla = screens::person_named(shown.lock, "Orla Finch");
    REQUIRE(orla != nullptr);
    CHECK(orla->not_before_s == 1795579200 + 30);  // 2026-11-25T04:00:00Z and half a minute
    // The right one is not even looked at before its time; another person gets in meanwhile.
    CHECK(window.after(screens::Unlock{"Orla Finch", "775021"}).lock.person.empty());
    CHECK(window.after(screens::Unlock{"Ilka Marrowby", "482913"}).lock.person == "Ilka Marrowby");
    window.after(screens::LockWindow{});
    window.pass_seconds(31);
    CHECK(window.after(screens::Unlock{"Orla Finch", "775021"}).lock.person == "Orla Finch");
}

TEST_CASE("what was asked before the lock is done; what comes after waits; the next person writes under the own name") {
    Shell shell;
    const auto job = shell.open_job();
    give_pins(shell);
    Window window{shell, true};
    window.after(screens::Unlock{"Orla Finch", "775021"});
    auto shown = window.after(screens::OpenJobView{job});
    REQUIRE(shown.job);
    CHECK_FALSE(shown.job->with.empty());
    shown = window.after(desk::Intent{tilt(job)});
    REQUIRE(shown.problem);
    CHECK(shown.problem->what.find("Orla Finch is not in the crew") != std::string::npos);
    window.after(screens::ProblemUnderstood{});
    shown = window.after(desk::Intent{desk::TakeOverJob{job, ""}});
    CHECK_FALSE(shown.problem);
    CHECK(shown.job->with.empty());
    shown = window.after(desk::Intent{tilt(job)});
    CHECK_FALSE(shown.problem);
    shown = window.after(screens::LockWindow{});
    CHECK(shown.lock.person.empty());
    // The keys went with the person: another program may write now.
    CHECK(shell.run({"enter", job, "coll-tilt", "36°", "--person", "Orla Finch", "--pin-file", shell.write("orla.pin", "775021\n")}).code == 0);
    // A series that runs is kept behind the lock.
    screens::SeriesRun run;
    run.job = job;
    run.check = "test-hold";
    run.title = "Pressure holds";
    shown = window.after(screens::KeepSeries{{run}});
    CHECK_FALSE(shown.problem);
    CHECK(Shell::bytes_of(shell.data() / "running-series.txt").find("test-hold") != std::string::npos);
    shown = window.after(screens::Unlock{"Ilka Marrowby", "482913"});
    CHECK(shown.job->with == "Orla Finch");
    shown = window.after(desk::Intent{desk::TakeOverJob{job, ""}});
    shown = window.after(desk::Intent{tilt(job)});
    CHECK_FALSE(shown.problem);
    std::string by;
    for (const auto& check : shown.job->checks)
        if (check.id == "coll-tilt") by = check.readings.back().by;
    CHECK(by == "Ilka Marrowby");
}

TEST_CASE("the first PIN set in the window makes its person the one at work, and later changes want the own PIN") {
    Shell shell;
    shell.open_job();
    Window window{shell, false};
    auto shown = window.after(screens::GivePin{"", "Ilka Marrowby", "owner", "123456"});
    CHECK(shown.lock.refused);
    CHECK(shown.lock.answer.starts_with("The PIN is a plain row."));
    shown = window.after(screens::GivePin{"", "Ilka Marrowby", "owner", "482913"});
    CHECK(shown.lock.person == "Ilka Marrowby");
    CHECK(shown.settings.keys_sealed);
    shown = window.after(screens::GivePin{"999999", "Orla Finch", "installer", "775021"});
    CHECK(shown.lock.refused);
    CHECK(shown.lock.people.size() == 1);
    shown = window.after(screens::GivePin{"482913", "Orla Finch", "installer", "775021"});
    CHECK(shown.lock.answer == "Orla Finch has a PIN as installer.");
    CHECK(shown.lock.people.size() == 2);
    shown = window.after(screens::TakePinAway{"482913", "Ilka Marrowby"});
    CHECK(shown.lock.answer.starts_with("The last owner stays."));
    shown = window.after(screens::TakePinAway{"482913", "Orla Finch"});
    CHECK(shown.lock.people.size() == 1);
    // No PIN lies in any file.
    for (const auto& entry : std::filesystem::recursive_directory_iterator{shell.data()})
        if (entry.is_regular_file()) CHECK(Shell::bytes_of(entry.path()).find("482913") == std::string::npos);
}

TEST_CASE("once persons have PINs anybody lets the window lock earlier, and only a lead later or never") {
    Shell shell;
    shell.open_job();
    const auto kept = [&] { return read_window_settings(shell.data()).lock_minutes; };
    {
        Window window{shell, false};
        CHECK(window.after(screens::ChooseLockTime{0}).lock.minutes == 0);  // nobody has one yet
        CHECK(window.after(screens::ChooseLockTime{10}).lock.minutes == 10);
    }
    give_pins(shell);
    Window window{shell, true};
    window.after(screens::Unlock{"Orla Finch", "775021"});
    for (const int minutes : {0, 30, 11}) {
        const auto shown = window.after(screens::ChooseLockTime{minutes});
        REQUIRE(shown.problem);
        CHECK(shown.problem->what == "Orla Finch is an installer here; only a lead may let the window stay open longer.");
        CHECK_FALSE(shown.lock.minutes);
        CHECK(kept() == 10);
        window.after(screens::ProblemUnderstood{});
    }
    auto shown = window.after(screens::ChooseLockTime{5});
    CHECK_FALSE(shown.problem);
    CHECK(shown.lock.minutes == 5);
    CHECK(kept() == 5);
    window.after(screens::LockWindow{});
    shown = window.after(screens::ChooseLockTime{0});
    REQUIRE(shown.problem);
    CHECK(shown.problem->what == "The window is locked, so this was not done.");
    CHECK(kept() == 5);
    window.after(screens::Unlock{"Ilka Marrowby", "482913"});
    CHECK(window.after(screens::ChooseLockTime{0}).lock.minutes == 0);
    CHECK(kept() == 0);
}

TEST_CASE("what is half typed under a PIN lies sealed, comes back with the next one, and is left out when it cannot be opened") {
    Shell shell;
    const auto job = shell.open_job();
    give_pins(shell);
    const screens::KeptNumber half{job, "ladder-set", "", "52", "", "", "correcting", {{"done", "called Zephyrine Quolltasker"}}};
    const auto bytes = [&] { return Shell::bytes_of(shell.data() / half_typed_file); };
    {
        Window window{shell, true};
        CHECK_FALSE(window.after(screens::Unlock{"Orla Finch", "775021"}).typed);
        CHECK_FALSE(window.after(screens::KeepNumber{half}).problem);
        CHECK(bytes().starts_with(job + "\tladder-set\tsealed\t"));
        // What was typed in the moment of the lock is written with the next opening, and never in the clear.
        window.after(screens::LockWindow{});
        auto later = half;
        later.value = "520";
        const auto before = bytes();
        window.after(screens::KeepNumber{later});
        CHECK(bytes() == before);
        CHECK_FALSE(window.after(screens::Unlock{"Ilka Marrowby", "482913"}).typed);  // it still stands in the window
        CHECK(bytes() != before);
    }
    {
        Window window{shell, true};
        const auto shown = window.after(screens::Unlock{"Ilka Marrowby", "482913"});
        CHECK_FALSE(shown.problem);
        REQUIRE(shown.typed);
        CHECK(shown.typed->value == "520");
        CHECK(shown.typed->words == half.words);
    }
    REQUIRE(write_file(shell.data() / half_typed_file, bytes().substr(0, 90) + "\n"));
    Window window{shell, true};
    const auto shown = window.after(screens::Unlock{"Ilka Marrowby", "482913"});
    CHECK_FALSE(shown.typed);
    REQUIRE(shown.problem);
    CHECK(shown.problem->what == "What was half typed when the window last ended cannot be opened, and is left out.");
    CHECK(shown.jobs.size() == 1);
}

TEST_CASE("the first PIN set in the window seals what lies half typed beside it") {
    Shell shell;
    const auto job = shell.open_job();
    Window window{shell, false};
    window.after(screens::KeepNumber{{job, "ladder-set", "", "", "", "", "correcting", {{"done", "called Zephyrine Quolltasker"}}}});
    CHECK(Shell::bytes_of(shell.data() / half_typed_file).find("Zephyrine") != std::string::npos);
    REQUIRE(window.after(screens::GivePin{"", "Ilka Marrowby", "owner", "482913"}).lock.person == "Ilka Marrowby");
    CHECK(Shell::bytes_of(shell.data() / half_typed_file).find("Zephyrine") == std::string::npos);
}

}  // namespace wm::app
