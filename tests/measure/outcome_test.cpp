// Words and order of outcomes.
#include "measure/outcome.hpp"

#include <doctest/doctest.h>

using namespace wm::measure;

namespace {
constexpr Outcome worst_first[] = {Outcome::DoesNotConform, Outcome::Inconclusive,
                                   Outcome::Open,           Outcome::Deferred,
                                   Outcome::Conforms,       Outcome::NotApplicable};
}

TEST_CASE("every outcome is found again by its words") {
    for (const Outcome outcome : worst_first) CHECK(outcome_named(in_words(outcome)) == outcome);
    CHECK(in_words(Outcome::DoesNotConform) == "does not conform");
    CHECK(in_words(Outcome::NotApplicable) == "not applicable");
}

TEST_CASE("no other text names an outcome") {
    CHECK_FALSE(outcome_named(""));
    CHECK_FALSE(outcome_named("Conforms"));
    CHECK_FALSE(outcome_named("conforms "));
    CHECK_FALSE(outcome_named("failed"));
}

TEST_CASE("the worse of two outcomes does not depend on their order") {
    for (std::size_t i = 0; i < std::size(worst_first); ++i) {
        for (std::size_t j = i; j < std::size(worst_first); ++j) {
            CHECK(worse(worst_first[i], worst_first[j]) == worst_first[i]);
            CHECK(worse(worst_first[j], worst_first[i]) == worst_first[i]);
        }
    }
}
