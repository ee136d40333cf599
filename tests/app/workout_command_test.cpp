#include "app/workout_command.hpp"

#include "app/testing.hpp"

#include <set>

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("every computation is listed once with symbols and source") {
    Shell shell;
    const auto list = shell.json({"work-out", "--list"})["computations"];
    CHECK(list.size() == all_computations().size());
    std::set<std::string> names;
    for (const auto& row : list) {
        check_fields(row, {"name", "title", "inputs", "outputs", "source"});
        CHECK(names.insert(row["name"]).second);
        for (const auto& symbol : row["inputs"]) check_fields(symbol, {"symbol", "unit", "meaning", "optional"});
    }
}

TEST_CASE("wrong names, symbols and units are refused") {
    Shell shell;
    CHECK(shell.run({"work-out"}).code == 2);
    CHECK(shell.run({"work-out", "brewing"}).code == 2);
    const std::string name = all_computations().front().name;
    CHECK(shell.run({"work-out", name, "nonsense"}).code == 2);
    CHECK(shell.run({"work-out", name, "nonsense=1"}).code != 0);
    CHECK(shell.run({"work-out", name, "--help"}).data.starts_with(name + ":"));
}

}  // namespace wm::app
