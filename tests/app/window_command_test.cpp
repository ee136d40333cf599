#include "app/testing.hpp"

namespace wm::app {

namespace fs = std::filesystem;
using testing::Shell;

TEST_CASE("a screen, theme or size that is none is wrong use before any window opens") {
    Shell shell;
    const auto screen = shell.json({"window", "--screen", "garden"}, 2);
    CHECK(screen["problem"]["what"] == "There is no screen \"garden\".");
    CHECK(shell.run({"window", "--theme", "dusk"}).code == 2);
    CHECK(shell.json({"window", "--show", "garden"}, 2)["problem"]["what"] == "There is no view \"garden\" of a check.");
    CHECK(shell.run({"window", "--size", "12"}).code == 2);
    CHECK_FALSE(std::filesystem::exists(shell.data()));
}

TEST_CASE("a folder of pictures that is none is wrong use before any window opens") {
    Shell shell;
    const auto none = (shell.folder() / "nowhere").string();
    CHECK(shell.json({"window", "--photos", none}, 2)["problem"]["what"] == "There is no folder \"" + none + "\".");
    CHECK_FALSE(fs::exists(shell.data()));
}

TEST_CASE("where persons have PINs only a lead starts a window that stays open longer than the one kept here") {
    Shell shell;
    shell.open_job();
    const auto lead = shell.write("lead.pin", "482913\n"), installer = shell.write("installer.pin", "775021\n");
    REQUIRE(shell.run({"access", "add", "Ilka Marrowby", "--new-pin-file", lead}).code == 0);
    REQUIRE(shell.run({"access", "add", "Orla Finch", "--new-pin-file", installer, "--person", "Ilka Marrowby", "--pin-file", lead}).code == 0);
    // No font can be read, so that no window opens where it would.
    fs::create_directories(shell.folder() / "fonts" / "DejaVuSans.ttf");
    ::setenv("WITNESSMARK_SHARE", shell.folder().c_str(), 1);
    const auto asked = [&](const std::string& minutes, std::vector<std::string> who) {
        std::vector<std::string> words{"window", "--lock-after", minutes};
        words.insert(words.end(), who.begin(), who.end());
        const auto output = shell.run(words);
        CHECK(output.code != 0);
        return output.talk;
    };
    for (const char* minutes : {"0", "11", "600"}) {
        CAPTURE(minutes);
        CHECK(asked(minutes, {}).find("Persons have PINs here, and none was given.") != std::string::npos);
        CHECK(asked(minutes, {"--person", "Orla Finch", "--pin-file", installer}).find("only a lead may let the window stay open longer") !=
              std::string::npos);
        CHECK(asked(minutes, {"--person", "Ilka Marrowby", "--pin-file", lead}).find("DejaVuSans") != std::string::npos);
    }
    for (const char* minutes : {"10", "1"}) CHECK(asked(minutes, {}).find("DejaVuSans") != std::string::npos);
}

}  // namespace wm::app
