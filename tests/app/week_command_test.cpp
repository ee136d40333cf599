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

TEST_CASE("a week is narrowed to what is named, and says so") {
    Shell shell;
    const auto job = shell.open_job();
    shell.run({"enter", job, "coll-tilt", "41°"});
    shell.run({"enter", job, "tank-level", "0.2°"});
    const auto all = shell.json({"week", "2026-W48"});
    CHECK(all["results"] == 2);
    CHECK(all["filter"] == nlohmann::json{{"weeks", 1}});
    const auto one = shell.json({"week", "2026-W48", "--check", "tank-level"});
    CHECK(one["results"] == 1);
    CHECK(one["failed"].empty());
    CHECK(one["filter"]["check"] == "tank-level");
    CHECK(shell.json({"week", "2026-W49", "--weeks", "2"})["results"] == 2);
    CHECK(shell.json({"week", "2026-W49"})["results"] == 0);
    CHECK(shell.run({"week", "2026-W48", "--check", "tank-level", "--weeks", "4"}).data.find("4 weeks; findings are compared") != std::string::npos);
    for (const char* option : {"--crew", "--check", "--roof", "--kind", "--batch", "--instrument", "--street"}) {
        CAPTURE(option);
        CHECK(shell.run({"week", "2026-W48", option, "nobody's"}).code == 2);
    }
    for (const char* weeks : {"0", "-1", "many", "521", "4x"}) CHECK(shell.run({"week", "2026-W48", "--weeks", weeks}).code == 2);
}

TEST_CASE("what is no week is wrong use") {
    Shell shell;
    shell.open_job();
    CHECK(shell.run({"week"}).code == 2);
    CHECK(shell.run({"week", "48"}).code == 2);
}

}  // namespace wm::app
