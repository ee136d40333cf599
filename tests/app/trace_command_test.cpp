#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("a trace drafts letters and plans visits only when asked, and a recorded doubt opens the check") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"enter", job, "coll-tilt", "41°"}).code == 1);
    std::string tool;
    const auto shown = shell.json({"job", "show", job});
    for (const auto& check : shown["checks"])
        if (check["id"] == "coll-tilt") tool = check["readings"][0]["instrument"];
    REQUIRE_FALSE(tool.empty());
    const auto looked = shell.json({"trace", "--instrument", tool});
    check_fields(looked, {"kind", "subject", "results", "sentence", "rows", "jobs", "doubted", "set_aside"});
    CHECK(looked["results"] == 1);
    CHECK(looked["doubted"] == false);
    const auto letters = shell.folder() / "letters";
    const auto done = shell.json({"trace", "--instrument", tool, "--from", "2026-11-01", "--letters", letters.string(), "--visits",
                                  "--record", "--why", "It fell."});
    CHECK(done["set_aside"] == 1);
    CHECK(done["doubted"] == true);
    CHECK_FALSE(done["jobs"][0]["revisit"].is_null());
    CHECK(Shell::bytes_of(letters / (job + ".txt")).find("read wrongly") != std::string::npos);
    CHECK(shell.run({"trace", "--instrument", "XX-9"}).code == 3);
    CHECK(shell.run({"trace"}).code == 2);
    CHECK(shell.run({"trace", "--instrument", tool, "--from", "soon"}).code == 2);
}

}  // namespace wm::app
