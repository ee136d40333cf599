#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("what is put off is listed with day and owner, up to a day if one is named") {
    Shell shell;
    CHECK(shell.json({"due"})["due"].empty());
    const auto job = shell.open_job();
    CHECK(shell.json({"due"})["due"].empty());
    const auto day = shell.json({"job", "list"})["jobs"][0]["started"].get<std::string>().substr(0, 10);
    REQUIRE(shell.run({"defer", job, "day-after", "--until", day, "--owner", "Ode Brannick", "--why", "no sun"}).code == 0);
    const auto due = shell.json({"due"})["due"];
    REQUIRE(due.size() == 1);
    check_fields(due[0], {"job", "place", "check", "title", "until", "days", "owner", "why"});
    CHECK(due[0]["job"] == job);
    CHECK(due[0]["check"] == "day-after");
    CHECK(due[0]["owner"] == "Ode Brannick");
    CHECK(shell.json({"job", "list"})["jobs"][0]["due"] == day);
    CHECK(shell.json({"due", "--until", "2000-01-01"})["due"].empty());
    CHECK(shell.run({"due"}).data.find("day-after") != std::string::npos);
}

TEST_CASE("an issue of the report that cannot be is refused") {
    Shell shell;
    const auto job = shell.open_job();
    for (const char* wrong : {"0", "x", "1.5", "-1"}) {
        CAPTURE(wrong);
        CHECK(shell.run({"job", "report", job, "--issue", wrong}).code == 2);
    }
    CHECK(shell.run({"job", "report", job, "--issue", "1"}).code == 1);
}

}  // namespace wm::app
