#include "app/options.hpp"

#include <doctest/doctest.h>

#include <set>

#include "app/usage.hpp"

namespace wm::app {

TEST_CASE("every option is listed once, says what it means, and shows a value exactly if one follows") {
    std::set<std::string_view> names;
    for (const auto& option : option_table()) {
        CAPTURE(option.name);
        CHECK(names.insert(option.name).second);
        CHECK_FALSE(option.meaning.empty());
        CHECK(option.value.empty() != option.takes_value());
        CHECK((option.follows != Value::Choice || option.value.find('|') != std::string_view::npos));
        CHECK(option_named(option.name) == &option);
    }
    CHECK(option_named("colour") == nullptr);
}

TEST_CASE("no option is hidden: each stands in the usage of a form or is of every form") {
    std::set<const Option*> shown{option_named("version")};
    for (const auto* option : options_of_all_forms()) shown.insert(option);
    for (const auto& command : command_table())
        for (const auto* option : options_of(command)) shown.insert(option);
    for (const auto& option : option_table()) {
        CAPTURE(option.name);
        CHECK(shown.count(&option) == 1);
    }
}

}  // namespace wm::app
