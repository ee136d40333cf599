#include "app/commands.hpp"

#include "app/testing.hpp"

namespace wm::app {

using testing::Json;
using testing::Shell;

TEST_CASE("every form has help with its usage, and the overview lists them all") {
    Shell shell;
    const auto all = shell.run({"--help"});
    CHECK(all.code == 0);
    for (const auto& command : command_table()) {
        CAPTURE(command.form);
        CHECK(all.data.find(std::string{command.usage}) != std::string::npos);
        const auto help = shell.run({std::string{command.form}, "--help"});
        CHECK(help.code == 0);
        CHECK(help.data.starts_with(std::string{command.usage}));
        CHECK(help.data.find(std::string{command.does}) != std::string::npos);
    }
    CHECK(shell.run({"--version"}).data == "witnessmark 0.1.0\n");
}

TEST_CASE("an unknown form or option is wrong use, in JSON when JSON was asked for") {
    Shell shell;
    const auto form = shell.run({"brew"});
    CHECK(form.code == 2);
    CHECK(form.talk.find("There is no form \"brew\".") != std::string::npos);
    const auto option = run_words({"job", "list", "--json", "--jsn"});
    CHECK(option.code == 2);
    CHECK(Json::parse(option.data)["problem"]["what"] == "There is no option --jsn.");
    CHECK(run_words({"job", "list", "--jsn"}).data.empty());
}

TEST_CASE("a folder without a journal has empty lists and says so") {
    Shell shell;
    CHECK(shell.json({"job", "list"})["jobs"].empty());
    CHECK(shell.json({"post", "list"})["messages"].empty());
    CHECK(shell.json({"week", "--list"})["weeks"].empty());
    CHECK(shell.run({"job", "list"}).talk.find("There is no journal in ") == 0);
    CHECK_FALSE(std::filesystem::exists(shell.data()));
}

}  // namespace wm::app
