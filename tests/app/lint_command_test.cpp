#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("the shipped checklists pass, a broken one does not") {
    Shell shell;
    const std::string kit = std::string{WM_SOURCE_DIR} + "/checklists/kit.toml";
    const auto fine = shell.json({"lint", kit});
    REQUIRE(fine["files"].size() == 1);
    check_fields(fine["files"][0], {"file", "checks", "core", "findings"});
    CHECK(fine["files"][0]["checks"] == 12);

    auto text = Shell::bytes_of(kit);
    const auto at = text.find("severity = ");
    REQUIRE(at != std::string::npos);
    text.replace(at, 8, "severty ");
    const auto broken = shell.json({"lint", shell.write("kit.toml", text)}, 1);
    const auto& finding = broken["files"][0]["findings"][0];
    check_fields(finding, {"line", "column", "what", "what_to_do", "severity"});
    CHECK(shell.run({"lint"}).code == 2);
    CHECK(shell.run({"lint", "/nowhere.toml"}).code == 3);
    CHECK(shell.run({"lint", shell.write("x.toml", "[[check]\n")}).code == 1);
}

}  // namespace wm::app
