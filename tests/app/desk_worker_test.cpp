#include "app/desk_worker.hpp"

#include "app/worker_testing.hpp"
#include "photo/jpeg_coder.hpp"

namespace wm::app {

using testing::desk_in;
using testing::Listener;
using testing::Shell;

TEST_CASE("what was asked for is done before the worker ends, and is durable") {
    Shell shell;
    const auto job = shell.open_job();
    Listener listener;
    {
        DeskWorker worker{desk_in(shell), {shell.data(), shell.folder(), shell.folder()}, [&] { listener.wake(); }};
        for (const char* text : {"35°", "36°", "34°"})
            worker.post(desk::Intent{desk::TakeReading{job, "coll-tilt", "", text, "", {}, "", "", "", "", false}});
    }
    const auto shown = shell.json({"job", "show", job});
    for (const auto& check : shown["checks"])
        if (check["id"] == "coll-tilt") CHECK(check["readings"].size() == 3);
}

TEST_CASE("an intent brings a saved mark and the job again, a refusal brings the problem") {
    Shell shell;
    const auto job = shell.open_job();
    Listener listener;
    std::vector<News> all;
    {
        DeskWorker worker{desk_in(shell), {shell.data(), shell.folder(), shell.folder()}, [&] { listener.wake(); }};
        listener.wait_for(1);
        for (auto& news : worker.news()) {
            REQUIRE(news.jobs);
            CHECK(news.jobs->size() == 1);
            REQUIRE(news.facts_files);
            CHECK(news.facts_files->size() == 1);
        }
        worker.post(screens::OpenJobView{job});
        worker.post(desk::Intent{desk::TakeReading{job, "coll-tilt", "", "41°", "", {}, "", "", "", "", false}});
        worker.post(desk::Intent{desk::TakeReading{job, "coll-tilt", "", "steep", "", {}, "", "", "", "", false}});
        worker.post(screens::AskPreview{job, "coll-tilt", "", "3", ""});
        // Lists, job, done, saved, job, done, problem, job, done, preview, done.
        listener.wait_for(11);
        all = worker.news();
    }
    CHECK(Shell::bytes_of(shell.data() / "open-job.txt") == job);
    int saved = 0;
    int done = 0;
    bool problem = false;
    bool preview = false;
    for (const auto& news : all) {
        saved += news.saved_mark ? 1 : 0;
        done += news.done ? 1 : 0;
        problem = problem || news.problem.has_value();
        preview = preview || news.preview.has_value();
    }
    CHECK(saved == 1);
    CHECK(done == 4);
    CHECK(problem);
    CHECK(preview);
}

TEST_CASE("a backup that cannot be made is said, and the entry that came with it counts as saved") {
    Shell shell;
    const auto job = shell.open_job();
    // A file where the folder of the backups should be.
    const auto no_folder = shell.folder() / "no-folder";
    std::ofstream{no_folder} << "x";
    std::ofstream{shell.data() / "settings.toml"} << "[backup]\nfolder = \"" << no_folder.string() << "\"\n";
    Listener listener;
    screens::World shown;
    int pending = 2;
    {
        DeskWorker worker{desk_in(shell), {shell.data(), shell.folder(), shell.folder()}, [&] { listener.wake(); }};
        worker.post(desk::Intent{desk::TakeReading{job, "coll-tilt", "", "41°", "", {}, "", "", "", "", false}});
        worker.post(desk::Intent{desk::TakeReading{job, "coll-tilt", "", "steep", "", {}, "", "", "", "", false}});
        for (int calls = 1; shown.answered < 2; ++calls) {
            listener.wait_for(calls);
            for (auto& news : worker.news()) {
                take_in(shown, news, pending);
                if (!news.done || shown.answered != 1) continue;
                REQUIRE(shown.problem);
                CHECK(shown.saved_mark.starts_with("saved "));
                CHECK_FALSE(shown.refused_since(0));
            }
        }
    }
    CHECK(shown.answered == 2);
    CHECK(shown.refused_since(1));
}

TEST_CASE("the days ahead are shown, and made a calendar file in the outbox") {
    Shell shell;
    const auto job = shell.open_job();
    REQUIRE(shell.run({"job", "facts", job, "--set", "job.date=2027-03-06"}).code == 0);
    Listener listener;
    screens::World shown;
    int pending = 3;
    {
        DeskWorker worker{desk_in(shell), {shell.data(), shell.folder(), shell.folder()}, [&] { listener.wake(); }};
        worker.post(screens::AskPlan{"2027-03-04", "2027-03-10"});
        worker.post(screens::SavePlan{"2027-03-04", "2027-03-10"});
        worker.post(screens::AskPlan{"2027-03-10", "2027-03-04"});
        for (int calls = 1; shown.answered < 3; ++calls) {
            listener.wait_for(calls);
            for (auto& news : worker.news()) take_in(shown, news, pending);
        }
    }
    REQUIRE(shown.plan);
    CHECK(shown.plan->first == "2027-03-04");
    REQUIRE(shown.plan->jobs.size() == 1);
    CHECK(shown.plan->jobs.front().job == job);
    CHECK(Shell::bytes_of(shell.data() / "outbox" / "plan-2027-03-04.ics").find("DTSTART;VALUE=DATE:20270306") != std::string::npos);
    CHECK(shown.refused_since(2));
}

TEST_CASE("memory that is not to be had is a problem in words, and the worker goes on") {
    Shell shell;
    const auto job = shell.open_job();
    Listener listener;
    const auto open = [](const std::string&, std::string_view) -> Result<desk::Desk> { throw std::bad_alloc{}; };
    DeskWorker worker{desk_in(shell), {shell.data(), shell.folder(), shell.folder()}, [&] { listener.wake(); }, open};
    listener.wait_for(1);
    static_cast<void>(worker.news());
    worker.post(screens::Unlock{"Orla Finch", "482913"});
    listener.wait_for(3);
    std::string what;
    bool done = false;
    for (const auto& news : worker.news()) {
        if (news.problem) what = news.problem->what;
        done = done || news.done;
    }
    CHECK(what == "There is not enough memory for this.");
    CHECK(done);
}

TEST_CASE("a picture of the folder comes small and upright, and a file that is none without a size") {
    Shell shell;
    photo::Pixels wide{400, 300, std::vector<std::uint8_t>(400 * 300 * 3, 90)};
    const auto picture = shell.write("091.jpg", photo::encoded_jpeg(wide, 80));
    const auto none = shell.write("090.jpg", "x");
    Listener listener;
    DeskWorker worker{desk_in(shell), {shell.data(), shell.folder(), shell.folder()}, [&] { listener.wake(); }};
    listener.wait_for(1);
    screens::World shown;
    int pending = 0;
    for (auto& news : worker.news()) take_in(shown, news, pending);
    const int looked = shown.folder_looks;
    CHECK(looked > 0);
    worker.post(screens::AskLookOf{picture});
    worker.post(screens::AskLookOf{none});
    listener.wait_for(5);
    for (auto& news : worker.news()) take_in(shown, news, pending);
    REQUIRE(shown.photo_looks.size() == 2);
    CHECK(shown.photo_looks[picture]->width == screens::small_picture_side);
    CHECK(shown.photo_looks[picture]->height == screens::small_picture_side * 3 / 4);
    CHECK(shown.photo_looks[none]->width == 0);
    CHECK(shown.folder_looks == looked);
    worker.post(screens::AskFiles{});
    listener.wait_for(7);
    for (auto& news : worker.news()) take_in(shown, news, pending);
    CHECK(shown.photo_looks.empty());
    CHECK(shown.folder_looks == looked + 1);
}

TEST_CASE("a step in the workshop brings the draft, a refused one the problem, and a publication the register") {
    Shell shell;
    Listener listener;
    DeskWorker worker{desk_in(shell), {shell.data(), shell.folder(), shell.folder()}, [&] { listener.wake(); }};
    listener.wait_for(1);
    using Deed = desk::DraftStep::Deed;
    screens::World shown;
    int pending = 0;
    worker.post(desk::DraftStep{"commissioning", "nut-marks", Deed::Value, "title", "A stroke of paint"});
    worker.post(desk::DraftStep{"commissioning", "nut-marks", Deed::Publish, "", "clearer"});
    listener.wait_for(5);
    for (auto& news : worker.news()) take_in(shown, news, pending);
    REQUIRE(shown.list_draft);
    CHECK(shown.list_draft_looks == 2);
    CHECK(shown.list_draft->said.starts_with("Published as version"));
    REQUIRE(shown.registers);
    CHECK(shown.registers->first == desk::Register::Checklists);
    CHECK_FALSE(shown.problem);
    worker.post(desk::DraftStep{"roofing", "", Deed::Look, "", ""});
    listener.wait_for(7);
    for (auto& news : worker.news()) take_in(shown, news, pending);
    REQUIRE(shown.problem);
    CHECK(shown.problem->what == "There is no checklist \"roofing\".");
    CHECK(shown.list_draft_looks == 2);
}

TEST_CASE("files are offered newest first and by ending, whatever its case") {
    Shell shell;
    shell.write("a.JPG", "x");
    shell.write("b.png", "x");
    shell.write("c.txt", "x");
    CHECK(files_in(shell.folder(), {".jpg", ".png"}).size() == 2);
    CHECK(files_in(shell.folder() / "nowhere", {".jpg"}).empty());
}

}  // namespace wm::app
