#include "app/usage.hpp"

#include <doctest/doctest.h>

#include <algorithm>

namespace wm::app {

namespace {

std::vector<std::string> names(const std::vector<const Option*>& options) {
    std::vector<std::string> all;
    for (const auto* option : options) all.emplace_back(option->name);
    return all;
}

Command command_with(std::string_view form, std::string_view usage) { return {form, usage, "", nullptr}; }

using Words = std::vector<std::string>;

}  // namespace

TEST_CASE("a usage line is taken apart into second words, values and options") {
    const auto usages = usages_of(command_with("job",
                                               "witnessmark job new --checklist NAME --facts FILE.toml|--no-facts [--after JOB] [--practice]\n"
                                               "witnessmark job list | job show JOB | job facts JOB --set NAME=VALUE …\n"));
    REQUIRE(usages.size() == 4);
    CHECK(usages[0].verb == "new");
    CHECK(usages[0].values.empty());
    CHECK(names(usages[0].options) == Words{"checklist", "facts", "no-facts", "after", "practice"});
    CHECK(usages[1].verb == "list");
    CHECK(usages[2].values == Words{"JOB"});
    CHECK(usages[2].options.empty());
    CHECK(usages[3].values.front() == "JOB");
    CHECK(names(usages[3].options) == Words{"set"});
}

TEST_CASE("a line goes on below, second words may be parted by a bar, and quoted words are one value") {
    const auto act = usages_of(command_with("act", "witnessmark act new --why T\n            [--by NAME]\n"));
    REQUIRE(act.size() == 1);
    CHECK(names(act[0].options) == Words{"why", "by"});
    const auto registers = usages_of(command_with("register", "witnessmark register instruments|people [--csv]\n"));
    REQUIRE(registers.size() == 2);
    CHECK(registers[0].verb == "instruments");
    CHECK(registers[1].verb == "people");
    CHECK(names(registers[1].options) == Words{"csv"});
    const auto correct = usages_of(command_with("correct", "witnessmark correct JOB CHECK VALUE --done \"what was done\" [--place P]\n"));
    REQUIRE(correct.size() == 1);
    CHECK(correct[0].verb.empty());
    CHECK(correct[0].values == Words{"JOB", "CHECK", "VALUE"});
}

TEST_CASE("an option whose name begins another's is not taken for it") {
    const Command command = command_with("window", "witnessmark window [--check CHECK]\n");
    CHECK(names(options_of(command)) == Words{"check"});
}

TEST_CASE("every usage line names only options that the table has") {
    for (const auto& command : command_table()) {
        CAPTURE(command.form);
        const auto known = options_of(command);
        for (std::size_t at = command.usage.find("--"); at != std::string_view::npos; at = command.usage.find("--", at + 2)) {
            const auto end = command.usage.find_first_not_of("abcdefghijklmnopqrstuvwxyz-", at + 2);
            const auto name = command.usage.substr(at + 2, end - at - 2);
            CAPTURE(name);
            CHECK(std::any_of(known.begin(), known.end(), [&](const Option* option) { return option->name == name; }));
        }
    }
}

}  // namespace wm::app
