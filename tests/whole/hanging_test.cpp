// The window draws and answers while the disk, its settings and the mail server hang, and takes nothing further once the disk
// lost a sync. Nothing is timed: what hangs goes on when this thread, which is the window's, has drawn its frames. Did it wait
// for them, it would wait for itself.
#include <arpa/inet.h>
#include <fcntl.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <thread>

#include "app/desk_worker.hpp"
#include "app/testing.hpp"
#include "app/world.hpp"
#include "photo/testing.hpp"
#include "screens/run_draft.hpp"
#include "screens/testing.hpp"
#include "store/gated_disk.hpp"

namespace wm::app {

using testing::Shell;
using store::testing::Gate;
using store::testing::GatedDisk;
using namespace std::chrono_literals;

namespace {

constexpr auto patience = 60s;  // never spent unless the test fails

desk::Desk desk_on(Shell& shell, store::Disk* disk) {
    Arguments arguments;
    arguments.options.emplace("data", shell.data().string());
    arguments.options.emplace("at", shell.at);
    const auto world = world_for(arguments);
    REQUIRE(world);
    auto setup = setup_for(*world, desk::Access::Write);
    REQUIRE(setup);
    setup->disk = disk;
    auto desk = desk::Desk::open(std::move(*setup));
    REQUIRE_MESSAGE(desk, (desk ? "" : told(desk.error())));
    return std::move(*desk);
}

/// The window's loop over a desk on its worker: news in, a frame, requests out.
class Window {
public:
    Window(desk::Desk desk, const Shell& shell)
        : worker_{std::move(desk), {.data = shell.data(), .photos = shell.folder(), .facts = shell.folder()}, [this] { woken(); }} {
        glass.desk_answers = false;
        glass.world = {};
        glass.world.moment = {shell.at, 1'795'579'200, 100.0};
        glass.world.listed = false;  // until the desk has told its jobs
    }

    void frame() {
        take_news();
        for (const auto& request : glass.frame())
            if (!std::holds_alternative<screens::RingTone>(request)) ask(request);
    }
    void ask(const screens::Request& request) {
        ++pending;
        worker_.post(request);
        glass.world.saving = true;
    }
    /// Waits for the desk: only where nothing hangs.
    bool until_answered() {
        for (int round = 0; round < 200; ++round) {
            frame();
            if (pending == 0 && glass.world.listed) {
                if (round > 5) return true;
                continue;
            }
            std::unique_lock lock{mutex_};
            news_.wait_for(lock, 500ms, [&] { return calls_ > seen_; });
            seen_ = calls_;
        }
        return false;
    }
    /// Keys and screens, each with the frames that a hand would see.
    void look_around() {
        using screens::Screen;
        for (const auto& [key, screen] : {std::pair{GLFW_KEY_F2, Screen::Jobs}, std::pair{GLFW_KEY_F5, Screen::Outbox},
                                          std::pair{GLFW_KEY_F7, Screen::Settings}, std::pair{GLFW_KEY_F3, Screen::Run}}) {
            for (int i = 0; i < 20; ++i) frame();
            strike(key);
            CHECK(glass.drafts.screen == screen);
        }
    }
    void work_on() {
        look_around();
        const auto before = glass.drafts.run.check;
        strike(GLFW_KEY_PAGE_DOWN);
        frame();
        CHECK(glass.drafts.run.check != before);
    }
    void strike(int key) {
        glass.read_first();
        ImGui::GetIO().KeysDown[key] = true;
        frame();
        ImGui::GetIO().KeysDown[key] = false;
        frame();
    }

    screens::testing::Glass glass{1280, 800, {}};
    int pending = 0;

private:
    void take_news() {
        for (auto& news : worker_.news()) take_in(glass.world, news, pending);
        glass.world.saving = pending > 0;
    }
    void woken() {
        const std::lock_guard lock{mutex_};
        ++calls_;
        news_.notify_all();
    }

    std::mutex mutex_;
    std::condition_variable news_;
    int calls_ = 0, seen_ = 0;
    DeskWorker worker_;  ///< last: it calls woken() from its thread
};

desk::Intent tilt(const std::string& job) {
    return desk::TakeReading{.job = job, .check = "coll-tilt", .place = "", .text = "35°", .instrument = "", .photo = std::nullopt,
                             .photo_name = "", .caption = "", .read_at = "", .by = "", .sure = false};
}

void show(Window& window, const std::string& job) {
    REQUIRE(window.until_answered());
    window.glass.drafts.screen = screens::Screen::Run;
    window.glass.drafts.run.wanted = screens::WantedCheck{job, "coll-tilt", screens::RunMode::Reading};
    window.ask(screens::OpenJobView{job});
    REQUIRE(window.until_answered());
    REQUIRE(window.glass.drafts.run.check == "coll-tilt");
}

/// Saves what stands in the field as the key "Save" does; `photo_file` may be empty.
void save_typed(Window& window, const std::string& value, const std::string& photo_file) {
    auto& draft = window.glass.drafts.run;
    const auto& checks = window.glass.world.job->checks;
    const auto check = std::find_if(checks.begin(), checks.end(), [&](const auto& each) { return each.id == draft.check; });
    REQUIRE(check != checks.end());
    draft.value = value;
    draft.photo_path = photo_file;
    screens::Requests requests;
    screens::save_reading(*check, value + "°", draft, requests);
    REQUIRE(draft.value.empty());
    for (const auto& request : requests) window.ask(request);
}

/// What is stored for the check, as the command line tells it.
std::vector<std::string> tilts_in(Shell& shell, const std::string& job) {
    std::vector<std::string> texts;
    const auto shown = shell.json({"job", "show", job});
    for (const auto& check : shown["checks"])
        if (check["id"] == "coll-tilt")
            for (const auto& reading : check["readings"]) texts.push_back(reading["text"]);
    return texts;
}

/// Takes one connection and says nothing until let go.
class SilentServer {
public:
    SilentServer() : listening_{::socket(AF_INET, SOCK_STREAM, 0)} {
        sockaddr_in address{};
        address.sin_family = AF_INET;
        address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        REQUIRE(::bind(listening_, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0);
        REQUIRE(::listen(listening_, 1) == 0);
        socklen_t size = sizeof address;
        REQUIRE(::getsockname(listening_, reinterpret_cast<sockaddr*>(&address), &size) == 0);
        port = ntohs(address.sin_port);
        gate.shut();
        thread_ = std::thread{[this] {
            const int client = ::accept(listening_, nullptr, nullptr);
            if (client < 0) return;
            gate.pass();
            ::close(client);
        }};
    }
    SilentServer(const SilentServer&) = delete;
    SilentServer& operator=(const SilentServer&) = delete;
    ~SilentServer() {
        gate.open();
        ::shutdown(listening_, SHUT_RDWR);
        thread_.join();
        ::close(listening_);
    }

    int port = 0;
    Gate gate{patience};

private:
    int listening_;
    std::thread thread_;
};

}  // namespace

TEST_CASE("the window goes on while the disk hangs, and calls nothing saved before it is") {
    Shell shell;
    const auto job = shell.open_job();
    Gate gate{patience};
    GatedDisk disk{[&] { gate.pass(); }};
    Window window{desk_on(shell, &disk), shell};
    show(window, job);
    const auto mark = window.glass.world.saved_mark;
    gate.shut();
    window.ask(tilt(job));
    REQUIRE(gate.wait_for_somebody());
    window.work_on();
    CHECK(gate.somebody_waits());
    CHECK(window.pending > 0);
    CHECK(window.glass.world.saving);
    CHECK(window.glass.world.saved_mark == mark);
    CHECK(window.glass.says("at work"));
    gate.open();
    CHECK(window.until_answered());
    CHECK(window.glass.world.saved_mark.starts_with("saved "));
    CHECK_FALSE(gate.gave_up());
}

TEST_CASE("a thread that waits for the disk is found out by the gate") {
    Shell shell;
    const auto job = shell.open_job();
    Gate gate{50ms};
    GatedDisk disk{[&] { gate.pass(); }};
    auto desk = desk_on(shell, &disk);
    gate.shut();
    CHECK(desk.carry_out(std::get<desk::TakeReading>(tilt(job))));
    CHECK(gate.gave_up());
}

TEST_CASE("an entry whose sync was lost stays on the screen, nothing further is taken, and a new start has all that was acknowledged") {
    // The first sync of an intent is the journal's own, with a photo that of the photo's file.
    for (const bool with_photo : {false, true}) {
        CAPTURE(with_photo);
        Shell shell;
        const auto job = shell.open_job();
        const std::string photo = with_photo ? shell.write("roof.jpg", photo::testing::jpeg_scene(320, 240, 3)) : "";
        GatedDisk disk{[] {}};
        {
            Window window{desk_on(shell, &disk), shell};
            show(window, job);
            // The first writing of a day brings a backup with it, which is out of the way then.
            window.ask(tilt(job));
            REQUIRE(window.until_answered());
            auto& shown = window.glass.world;
            CHECK_FALSE(shown.problem);
            REQUIRE(shown.saved_mark.starts_with("saved "));
            shown.saved_mark.clear();

            disk.lose_next_sync();
            save_typed(window, "36", photo);
            REQUIRE(window.until_answered());
            CHECK(disk.has_lost_it());
            REQUIRE(shown.problem);
            CHECK(window.glass.says(shown.problem->what));
            CHECK(window.glass.says(shown.problem->what_to_do));
            CHECK(window.glass.drafts.run.value == "36");
            CHECK(window.glass.drafts.run.photo_path == photo);
            CHECK(shown.saved_mark.empty());

            // The disk is in order again, and is not believed.
            window.ask(tilt(job));
            REQUIRE(window.until_answered());
            REQUIRE(shown.problem);
            CHECK(shown.problem->what ==
                  "Nothing more is written into this journal: the disk once failed to keep what it was given.");
            CHECK(window.glass.says("Close the program, look after the disk, and open it again."));
            CHECK(window.glass.drafts.run.value == "36");
            CHECK(shown.saved_mark.empty());
        }
        // What was refused may have reached the disk all the same; what was acknowledged must have.
        const auto kept = tilts_in(shell, job);
        CHECK(std::count(kept.begin(), kept.end(), "35°") == 1);
        CHECK(kept.size() <= 2);
        {
            Window again{desk_on(shell, &disk), shell};
            show(again, job);
            again.ask(tilt(job));
            REQUIRE(again.until_answered());
            CHECK_FALSE(again.glass.world.problem);
        }
        CHECK(tilts_in(shell, job).size() == kept.size() + 1);
    }
}

TEST_CASE("the window goes on while its settings cannot be written") {
    Shell shell;
    const auto job = shell.open_job();
    Window window{desk_on(shell, nullptr), shell};
    show(window, job);
    // A pipe that nobody reads: opening it for writing hangs.
    const auto pipe = shell.data() / "window.toml.new";
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    const int answered = window.glass.world.answered;
    window.ask(screens::ChooseLook{screens::Look::Night});
    window.work_on();
    CHECK(window.glass.world.answered == answered);
    const int reader = ::open(pipe.c_str(), O_RDONLY | O_NONBLOCK);
    CHECK(reader >= 0);
    CHECK(window.until_answered());
    ::close(reader);
}

TEST_CASE("the window goes on while the mail server says nothing, and the message waits on") {
    Shell shell;
    REQUIRE(shell.run({"demo", "--into", shell.data().string()}).code == 0);
    SilentServer server;
    std::filesystem::create_directories(shell.data());
    std::ofstream{shell.data() / "settings.toml"} << "[mail]\nserver = \"smtp://127.0.0.1:" << server.port << "\"\n";
    Window window{desk_on(shell, nullptr), shell};
    REQUIRE(window.until_answered());
    REQUIRE(window.glass.world.messages.size() == 1);
    show(window, window.glass.world.jobs.front().job);
    window.ask(screens::SendPost{});
    REQUIRE(server.gate.wait_for_somebody());
    window.look_around();
    CHECK(server.gate.somebody_waits());
    CHECK(window.pending > 0);
    server.gate.open();
    CHECK(window.until_answered());
    CHECK_FALSE(server.gate.gave_up());
    REQUIRE(window.glass.world.messages.size() == 1);
    CHECK(window.glass.world.messages.front().state == "waiting");
    CHECK(window.glass.world.messages.front().tries == 1);
}

}  // namespace wm::app
