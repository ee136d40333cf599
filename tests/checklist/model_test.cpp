#include "checklist/model.hpp"

#include <doctest/doctest.h>

namespace wm::checklist {

TEST_CASE("kinds, severities and rules have words that are read back") {
    for (const std::string_view word : {"confirm", "choice", "quantity", "positions", "series",
                                        "text", "photo", "signature", "computed"}) {
        CAPTURE(word);
        REQUIRE(kind_named(word));
        CHECK(in_words(*kind_named(word)) == word);
    }
    for (const std::string_view letter : {"H", "D", "P", "R"}) {
        REQUIRE(severity_named(letter));
        CHECK(letter_of(*severity_named(letter)) == letter);
    }
    for (const std::string_view word :
         {"crew-licences", "instruments-due", "open-items", "kit-ready", "survey-verdict"}) {
        REQUIRE(rule_named(word));
        CHECK(in_words(*rule_named(word)) == word);
    }
    CHECK_FALSE(kind_named("guess"));
    CHECK_FALSE(severity_named("X"));
}

TEST_CASE("the judged number has the unit of the measurand where there is one") {
    Check check;
    check.kind = Kind::Series;
    check.unit = units::unit_named("°C");
    CHECK(check.judged_unit()->symbol == "°C");
    check.measurand_unit = units::unit_named("K");
    CHECK(check.judged_unit()->symbol == "K");
    CHECK(check.is_numeric());
    check.kind = Kind::Positions;
    check.entry = EntryForm::Confirm;
    CHECK_FALSE(check.is_numeric());
}

}  // namespace wm::checklist
