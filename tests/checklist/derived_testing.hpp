// One derived value of a small house, in SI units, with the conventions as built in.
#pragma once

#include <functional>

#include "checklist/derived_equations.hpp"
#include "checklist/testing.hpp"

namespace wm::checklist::testing {

inline Result<double> derived_si(std::string_view name, const Facts& facts) {
    const Library library;
    const std::function<std::optional<units::Amount>(const CheckId&)> no_checks;
    Ingredients ingredients{facts, library, no_checks};
    return derived_named(name)->si(ingredients);
}

}  // namespace wm::checklist::testing
