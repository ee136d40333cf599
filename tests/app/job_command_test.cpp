#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("job new prints the number first, and list and show find the job") {
    Shell shell;
    const auto facts = shell.write("facts.toml", demo::facts_text(demo::demo_house(), demo::demo_crews().front()));
    const auto made = shell.run({"job", "new", "--checklist", "commissioning", "--facts", facts});
    CHECK(made.code == 0);
    const auto job = made.data.substr(0, made.data.find('\n'));
    CHECK(job.starts_with("J-"));
    CHECK(made.data == job + "\n");
    const auto list = shell.json({"job", "list"});
    REQUIRE(list["jobs"].size() == 1);
    CHECK(list["jobs"][0]["job"] == job);
    CHECK(list["jobs"][0]["state"] == "open");
    CHECK(list["jobs"][0]["place"] == "Kettlemark Row");
    const auto show = shell.json({"job", "show", job});
    check_fields(show, {"job", "checklist", "facts", "checks", "blockers", "state", "head"});
    CHECK(show["checks"].size() == 90);
    CHECK(show["facts"]["site.t_min_c"] == "-13");
    CHECK(show["head"].get<std::string>().size() == 64);
    CHECK(shell.run({"job", "show", job}).data.find("anchor-torque") != std::string::npos);
}

TEST_CASE("job new says what is missing") {
    Shell shell;
    CHECK(shell.run({"job", "new"}).code == 2);
    CHECK(shell.run({"job", "new", "--checklist", "commissioning"}).code == 2);
    CHECK(shell.run({"job", "new", "--checklist", "brew", "--facts", shell.write("f.toml", "")}).code == 2);
    CHECK(shell.run({"job", "new", "--checklist", "kit", "--facts", "/nowhere.toml"}).code == 3);
    const auto broken = shell.json({"job", "new", "--checklist", "kit", "--facts", shell.write("b.toml", "\nsite.latitud = 3\n")}, 3);
    CHECK(broken["problem"]["where"].get<std::string>().find("b.toml:2:") != std::string::npos);
    CHECK(shell.run({"job"}).code == 2);
    CHECK(shell.run({"job", "burn"}).code == 2);
    CHECK(shell.run({"job", "show", "J-X-1"}).code == 3);
}

TEST_CASE("facts stated later are shown, wrong ones refused") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.json({"job", "facts", job, "--set", "site.t_min_c=-15", "--set", "house.taps=4"})["facts"] == 2);
    CHECK(shell.json({"job", "show", job})["facts"]["site.t_min_c"] == "-15");
    CHECK(shell.run({"job", "facts", job, "--set", "site.t_min_c"}).code == 2);
    CHECK(shell.run({"job", "facts", job}).code == 2);
    CHECK(shell.run({"job", "facts", job, "--set", "site.t_min_c=-15 kPa"}).code == 3);
}

TEST_CASE("there is no report before the handover") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"job", "report", job}).code == 1);
}

TEST_CASE("an erased customer is gone from every answer") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.json({"erase-customer", job})["erased"] == true);
    CHECK(shell.run({"job", "show", job, "--json"}).data.find("Velmorrin") == std::string::npos);
    CHECK(shell.json({"attest", "--journal"})["genuine"] == true);
    CHECK(shell.run({"erase-customer"}).code == 2);
}

}  // namespace wm::app
