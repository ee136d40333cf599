#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("an action goes from decided to done to checked, and shows in list and week") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"enter", job, "coll-tilt", "41°"}).code == 1);
    const std::vector<std::string> decide = {"act", "new", "--week", "2026-W48", "--kind", "crew and check", "--subject", "Tindo Quellaby",
                                             "--check", "coll-tilt", "--cause", "skill", "--why", "Nobody showed it.",
                                             "--remedy", "Show it.", "--owner", "Odrun", "--due", "2027-01-31"};
    auto words = decide;
    const auto made = shell.json(words);
    check_fields(made, {"action", "finding", "subject", "check", "cause", "remedy", "owner", "due", "state", "closed", "effects"});
    const std::string number = made["action"];
    CHECK(made["state"] == "decided");
    CHECK(shell.run({"act", "check", number}).code == 1);
    const auto done = shell.json({"act", "done", number, "--note", "Shown, twice."});
    CHECK(done["state"] == "carried out");
    CHECK(done["effects"].size() == 2);
    CHECK(shell.json({"act", "list"})["actions"][0]["action"] == number);
    CHECK(shell.json({"week", "2026-W48"})["actions"][0]["action"] == number);
    CHECK(shell.run({"week", "2026-W48"}).data.find(number) != std::string::npos);
    const auto ended = shell.json({"act", "end", number, "--why", "A mistake."});
    CHECK(ended["closed"] == true);
    CHECK(shell.run({"act", "done", number}).code == 1);
    CHECK(shell.json({"attest", "--journal"})["genuine"] == true);
}

TEST_CASE("what is missing or unknown of an action is wrong use, with what to do") {
    Shell shell;
    shell.open_job();
    CHECK(shell.run({"act"}).code == 2);
    CHECK(shell.run({"act", "dance", "A-1"}).code == 2);
    CHECK(shell.run({"act", "new", "--week", "2026-W48", "--finding", "1"}).code == 2);
    CHECK(shell.run({"act", "new", "--week", "2026-W48", "--finding", "none"}).code == 2);
    CHECK(shell.run({"act", "done", "A-9"}).code == 3);
    CHECK(shell.json({"act", "causes"})["causes"].size() >= 5);
}

TEST_CASE("houses of the week's sample become service jobs, each once") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"enter", job, "relief-lever", "drips"}).code == 1);
    const auto all = shell.json({"revisit", "--week", "2026-W48"});
    REQUIRE(all["revisits"].size() == 1);
    CHECK(all["revisits"][0]["after"] == job);
    const std::string visit = all["revisits"][0]["job"];
    CHECK(shell.json({"revisit", job, "--why", "again"})["job"] == visit);
    CHECK(shell.json({"week", "2026-W48"})["samples"][0]["revisit"] == visit);
}

}  // namespace wm::app
