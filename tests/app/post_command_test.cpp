#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Json;
using testing::Shell;

TEST_CASE("a message waits, is saved as a file, and a server out of reach leaves it waiting") {
    Shell shell;
    const auto into = (shell.folder() / "demo").string();
    const auto made = shell.json({"demo", "--into", into});
    const auto at_home = [&](std::vector<std::string> words) {
        words.insert(words.end(), {"--data", into, "--json"});
        return run_words(words);
    };
    const auto list = Json::parse(at_home({"post", "list"}).data);
    REQUIRE(list["messages"].size() == 1);
    check_fields(list["messages"][0], {"message", "to", "subject", "state", "tries", "next_try", "last_answer"});
    CHECK(list["messages"][0]["state"] == "waiting");
    CHECK(list["messages"][0]["to"] == "ansa.velmorrin@example.org");

    const auto saved = Json::parse(at_home({"post", "save", (shell.folder() / "out").string()}).data);
    REQUIRE(saved["files"].size() == 1);
    CHECK(Shell::bytes_of(saved["files"][0].get<std::string>()) == Shell::bytes_of(made["message"].get<std::string>()));

    CHECK(at_home({"post", "send"}).code == 2);
    // Port 1 of the loopback address: nothing listens there.
    CHECK(at_home({"post", "send", "--server", "smtp://127.0.0.1:1"}).code == 4);
    const auto waiting = Json::parse(at_home({"post", "list"}).data)["messages"][0];
    CHECK(waiting["state"] == "waiting");
    CHECK(waiting["tries"] == 1);
    CHECK_FALSE(waiting["next_try"].is_null());
    std::ofstream{std::filesystem::path{into} / "settings.toml"} << "[mail]\nserver = \"smtp://127.0.0.1:1\"\n";
    CHECK(at_home({"post", "send"}).code == 4);
    CHECK(Json::parse(at_home({"post", "list"}).data)["messages"][0]["tries"] == 2);
}

TEST_CASE("post says what it can do") {
    Shell shell;
    CHECK(shell.run({"post"}).code == 2);
    CHECK(shell.run({"post", "burn"}).code == 2);
    CHECK(shell.run({"post", "save"}).code == 2);
}

}  // namespace wm::app
