// Words and order of outcomes.
#include "measure/outcome.hpp"

#include <array>
#include <cassert>

namespace wm::measure {
namespace {

constexpr std::array all_outcomes{Outcome::Open,         Outcome::Conforms, Outcome::DoesNotConform,
                                  Outcome::Inconclusive, Outcome::Deferred, Outcome::NotApplicable};

int badness(Outcome outcome) {
    switch (outcome) {
        case Outcome::DoesNotConform:
            return 5;
        case Outcome::Inconclusive:
            return 4;
        case Outcome::Open:
            return 3;
        case Outcome::Deferred:
            return 2;
        case Outcome::Conforms:
            return 1;
        case Outcome::NotApplicable:
            return 0;
    }
    assert(false && "an outcome outside the enumeration");
    return 5;
}

}  // namespace

std::string_view in_words(Outcome outcome) {
    switch (outcome) {
        case Outcome::Open:
            return "open";
        case Outcome::Conforms:
            return "conforms";
        case Outcome::DoesNotConform:
            return "does not conform";
        case Outcome::Inconclusive:
            return "inconclusive";
        case Outcome::Deferred:
            return "deferred";
        case Outcome::NotApplicable:
            return "not applicable";
    }
    assert(false && "an outcome outside the enumeration");
    return "open";
}

std::optional<Outcome> outcome_named(std::string_view words) {
    for (const Outcome outcome : all_outcomes) {
        if (in_words(outcome) == words) return outcome;
    }
    return std::nullopt;
}

Outcome worse(Outcome one, Outcome other) {
    return badness(one) >= badness(other) ? one : other;
}

}  // namespace wm::measure
