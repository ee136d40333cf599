#include "checklist/readings.hpp"

#include <doctest/doctest.h>

#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE("yes and no are read in either case, and nothing else is") {
    CHECK(read_yes_or_no("Yes", "x") == true);
    CHECK(read_yes_or_no(" no ", "x") == false);
    const auto maybe = read_yes_or_no("maybe", "fall-protection");
    REQUIRE(!maybe);
    CHECK(maybe.error() ==
          Problem{"\"maybe\" is neither yes nor no.", "fall-protection", "Answer yes or no."});
}

TEST_CASE("a word among the answers is found whatever its capitals") {
    CHECK(word_among({"flows and closes"}, {"drips"}, "DRIPS", "x") == "drips");
    const auto other = word_among({"flows and closes"}, {"drips"}, "drip", "relief-lever");
    REQUIRE(!other);
    CHECK(other.error().what_to_do ==
          "Did you mean \"drips\"? The answers are \"flows and closes\" or \"drips\".");
}

TEST_CASE("signatures and computed checks cannot be entered") {
    const auto library = testing::library_with({"commissioning.toml"});
    CHECK_FALSE(read_answer(*library.find(CheckId{"sign-crew"}), "", "x"));
    const auto computed = read_answer(*library.find(CheckId{"open-items"}), "", "yes");
    REQUIRE(!computed);
    CHECK(computed.error().what == "The tool decides this check; nothing can be entered.");
}

}  // namespace wm::checklist
