#include "app/arguments.hpp"

#include <doctest/doctest.h>

namespace wm::app {

TEST_CASE("options stand before or after the form, with a blank or an equals sign") {
    for (const auto& words : {std::vector<std::string>{"--data", "D", "job", "show", "J-1", "--json"},
                              std::vector<std::string>{"job", "--json", "show", "--data=D", "J-1"}}) {
        const auto sorted = sort_arguments(words);
        REQUIRE(sorted);
        CHECK(sorted->words == std::vector<std::string>{"job", "show", "J-1"});
        CHECK(sorted->has("json"));
        CHECK(sorted->value("data") == "D");
        CHECK(*sorted->word(2, "The job") == "J-1");
    }
}

TEST_CASE("a negative number is a value, not an option") {
    const auto sorted = sort_arguments({"enter", "J-1", "loop-freeze-point", "-15 °C"});
    REQUIRE(sorted);
    CHECK(sorted->words.back() == "-15 °C");
    CHECK(sort_arguments({"enter", "--", "--15"})->words.back() == "--15");
}

TEST_CASE("a repeated option keeps all its values in order") {
    const auto sorted = sort_arguments({"job", "facts", "J-1", "--set", "a=1", "--set", "b=2"});
    REQUIRE(sorted);
    CHECK(sorted->values("set") == std::vector<std::string>{"a=1", "b=2"});
    CHECK(sorted->values("place").empty());
    CHECK(sorted->value("place", "none") == "none");
}

TEST_CASE("an unknown option and one without its value are wrong use") {
    const auto unknown = sort_arguments({"job", "list", "--jsn"});
    REQUIRE_FALSE(unknown);
    CHECK(unknown.error() ==
          Problem{"There is no option --jsn.", "the command line", "See witnessmark --help for the options.", ProblemKind::WrongUse});
    const auto bare = sort_arguments({"job", "list", "--data"});
    REQUIRE_FALSE(bare);
    CHECK(bare.error().what == "--data wants a value: the data folder; made if missing.");
    const auto missing = sort_arguments({"enter"})->word(1, "The job number");
    REQUIRE_FALSE(missing);
    CHECK(missing.error().what == "The job number is missing.");
}

}  // namespace wm::app
