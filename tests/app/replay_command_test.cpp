#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("the shipped list flips nothing, a narrower one does and exits 1") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"enter", job, "coll-tilt", "36°"}).code == 0);
    const auto shipped = testing::fs::path{WM_SOURCE_DIR} / "checklists/commissioning.toml";
    const auto same = shell.json({"replay", shipped.string()});
    check_fields(same, {"results", "flips", "share_before", "share_after"});
    CHECK(same["results"] == 1);
    CHECK(same["flips"].empty());
    auto text = Shell::bytes_of(shipped);
    const std::string wide = "reading within 3 ° of sys.tilt_target and reading at least 10 °";
    const auto at = text.find(wide);
    REQUIRE(at != std::string::npos);
    text.replace(at, wide.size(), "reading at least 50 °");
    const auto flipped = shell.json({"replay", shell.write("commissioning.toml", text)}, 1);
    REQUIRE(flipped["flips"].size() == 1);
    check_fields(flipped["flips"][0], {"job", "check", "was", "would_be", "why"});
    CHECK(flipped["flips"][0]["job"] == job);
    REQUIRE(flipped["by_check"].size() == 1);
    CHECK(flipped["by_check"][0]["check"] == "coll-tilt");
    CHECK(flipped["by_check"][0]["before"]["failed"] == 0);
    check_fields(flipped["by_check"][0]["after"], {"failed", "results", "share", "low", "high"});
    CHECK(flipped["by_check"][0]["after"]["failed"] == 1);
    CHECK(flipped["after"]["results"] == 1);
    const auto told = shell.run({"replay", shell.write("commissioning.toml", text)});
    CHECK(told.data.find("coll-tilt: 0 of 1 = 0.00 % (0.0 to 79.3 %) before, 1 of 1 = 100.00 % (20.7 to 100.0 %) after") != std::string::npos);
    CHECK(flipped["flips"][0]["was"] == "conforms");
    CHECK(flipped["flips"][0]["would_be"] == "does not conform");
    CHECK(shell.run({"replay"}).code == 2);
    CHECK(shell.run({"replay", shell.write("mine.toml", "name = 3")}).code == 3);
}

}  // namespace wm::app
