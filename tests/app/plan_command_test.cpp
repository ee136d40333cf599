#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("plan lists the jobs of the days ahead, and writes them as a calendar") {
    Shell shell;
    CHECK(shell.json({"plan"})["jobs"].empty());
    const auto job = shell.open_job();
    CHECK(shell.run({"plan"}).talk.find("No job has a day") != std::string::npos);
    REQUIRE(shell.run({"job", "facts", job, "--set", "job.date=2027-03-08"}).code == 0);
    const auto file = shell.folder() / "days.ics";
    const auto plan = shell.json({"plan", "--from", "2027-03-05", "--until", "2027-03-10", "--out", file.string()});
    REQUIRE(plan["jobs"].size() == 1);
    check_fields(plan["jobs"][0], {"day", "job", "checklist", "place", "crew", "weather", "not_in_order", "load", "instruments"});
    CHECK(plan["jobs"][0]["job"] == job);
    const auto calendar = Shell::bytes_of(file);
    CHECK(calendar.find("DTSTART;VALUE=DATE:20270308") != std::string::npos);
    CHECK(calendar.find("TRIGGER:-P1D") != std::string::npos);
    const auto text = shell.run({"plan", "--from", "2027-03-05", "--until", "2027-03-10"});
    CHECK(text.data.find("2027-03-08  " + job) == 0);
    CHECK(text.data.find("    load  ") != std::string::npos);
    CHECK(shell.run({"plan", "--from", "soon"}).code == 3);
    CHECK(shell.run({"plan", "--out", "/proc/none/days.ics"}).code == 4);
}

}  // namespace wm::app
