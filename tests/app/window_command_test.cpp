#include "app/testing.hpp"

namespace wm::app {

using testing::Shell;

TEST_CASE("a screen, theme or size that is none is wrong use before any window opens") {
    Shell shell;
    const auto screen = shell.json({"window", "--screen", "garden"}, 2);
    CHECK(screen["problem"]["what"] == "There is no screen \"garden\".");
    CHECK(shell.run({"window", "--theme", "dusk"}).code == 2);
    CHECK(shell.run({"window", "--size", "12"}).code == 2);
    CHECK_FALSE(std::filesystem::exists(shell.data()));
}

}  // namespace wm::app
