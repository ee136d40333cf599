#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("a week is printed with counts beside shares, in text and JSON") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"enter", job, "coll-tilt", "41°"}).code == 1);
    const auto json = shell.json({"week", "2026-W48"});
    check_fields(json, {"week", "jobs", "results", "failed", "by_crew", "by_batch", "severe", "open", "findings", "samples"});
    REQUIRE(json["failed"].size() == 1);
    CHECK(json["failed"][0]["check"] == "coll-tilt");
    CHECK(json["failed"][0]["failed"] == 1);
    CHECK(json["failed"][0]["tries"] == 1);
    CHECK(json["failed"][0]["jobs"][0] == job);
    const auto text = shell.run({"week", "2026-W48"});
    CHECK(text.data.find("Week 2026-W48: 1 jobs") == 0);
    CHECK(text.data.find("1 of 1") != std::string::npos);
    CHECK(shell.json({"week", "--list"})["weeks"][0] == "2026-W48");
}

TEST_CASE("what is no week is wrong use") {
    Shell shell;
    shell.open_job();
    CHECK(shell.run({"week"}).code == 2);
    CHECK(shell.run({"week", "48"}).code == 2);
}

}  // namespace wm::app
