#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("a house tells all its jobs and calls, in words, as JSON and on paper, and names nobody") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"enter", job, "coll-tilt", "41°"}).code == 1);
    (void)shell.json({"complaint", job, "--symptom", "noise", "--words", "It bangs when Mirela showers"});
    const auto visit = shell.json({"revisit", job})["job"];
    const auto house = shell.json({"house", visit});
    check_fields(house, {"job", "place", "visits", "complaints", "fitted"});
    REQUIRE(house["visits"].size() == 2);
    check_fields(house["visits"][0], {"job", "kind", "day", "state", "checklist", "conforming", "put_right", "not_right", "reports"});
    CHECK(house["visits"][0]["job"] == job);
    CHECK(house["complaints"][0]["symptom"] == "It gurgles, bangs or rattles");
    CHECK(house.dump().find("Mirela") == std::string::npos);
    const auto paper = (shell.folder() / "house.pdf").string();
    const auto text = shell.run({"house", job, "--out", paper});
    CHECK(text.code == 0);
    CHECK(text.data.find("not right: ") != std::string::npos);
    CHECK(Shell::bytes_of(paper).starts_with("%PDF-"));
    CHECK(shell.run({"house", "J-none"}).code == 3);
    CHECK(shell.run({"house"}).code == 2);
}

}  // namespace wm::app
