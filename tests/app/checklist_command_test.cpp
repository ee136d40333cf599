#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("a list is shown, compared, published, and opened with") {
    Shell shell;
    const auto listed = shell.json({"checklist", "list"});
    check_fields(listed["checklists"][0], {"name", "version", "date", "title", "checks"});
    std::string text = shell.json({"checklist", "show", "commissioning"})["text"];
    CHECK(text.find("[checklist]") != std::string::npos);
    const auto at = text.find("Paint line on every nut");
    REQUIRE(at != std::string::npos);
    text.replace(at, 5, "Brush");
    const auto file = shell.write("mine.toml", text);
    const auto compared = shell.json({"checklist", "compare", file});
    check_fields(compared, {"checklist", "published", "checks", "findings", "differences", "unready"});
    REQUIRE(compared["differences"].size() == 1);
    CHECK(compared["differences"][0]["check"] == "nut-marks");
    CHECK(compared["differences"][0]["decides"] == false);
    CHECK(shell.run({"checklist", "compare", file}).data.find("(words only)") != std::string::npos);

    CHECK(shell.run({"checklist", "publish", file}).code == 1);
    const auto published = shell.json({"checklist", "publish", file, "--why", "clearer"});
    CHECK(published["version"] == compared["published"].get<int>() + 1);
    CHECK(shell.json({"checklist", "show", "commissioning"})["text"].get<std::string>().find("Brush line on every nut") != std::string::npos);
    const auto job = shell.open_job();
    CHECK(shell.json({"job", "show", job})["checklist"]["version"] == std::to_string(published["version"].get<int>()));
    CHECK(shell.run({"checklist", "publish", file, "--why", "again"}).code == 1);
}

TEST_CASE("what the form cannot be is told") {
    Shell shell;
    CHECK(shell.run({"checklist"}).code == 2);
    CHECK(shell.run({"checklist", "burn"}).code == 2);
    CHECK(shell.run({"checklist", "show"}).code == 2);
    CHECK(shell.run({"checklist", "show", "roofing"}).code == 3);
    CHECK(shell.run({"checklist", "compare", "/nowhere"}).code == 3);
    const auto broken = shell.run({"checklist", "compare", shell.write("broken.toml", "[[check")});
    CHECK(broken.code == 1);
    CHECK(broken.data.find("broken.toml") != std::string::npos);
}

}  // namespace wm::app
