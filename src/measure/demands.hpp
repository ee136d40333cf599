// Refusals for figures that no equation may be fed with.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::measure {

/// The problem of an input named `symbol` in the computation or place `where`.
[[nodiscard]] inline Problem unfit_input(std::string_view where, std::string_view symbol,
                                         std::string_view demand) {
    return Problem{.what = fmt::format("The input {} cannot be used: {}.", symbol, demand),
                   .where = std::string{where},
                   .what_to_do = fmt::format("Give {} again so that this holds.", symbol),
                   .kind = ProblemKind::Unreadable};
}

/// The first unmet demand of a row of demands, so that an equation can state all of them at once:
/// `Demands{"wilson"}.finite("x", x).at_least("n", n, 1).unmet()`.
class Demands {
public:
    explicit Demands(std::string_view where) : where_{where} {}

    Demands& that(bool holds, std::string_view symbol, std::string_view demand) {
        if (!holds && !unmet_) unmet_ = unfit_input(where_, symbol, demand);
        return *this;
    }
    Demands& finite(std::string_view symbol, double value) {
        return that(std::isfinite(value), symbol, "it must be a finite number");
    }
    template <class Range>
    Demands& all_finite(std::string_view symbol, const Range& values) {
        for (const double value : values) finite(symbol, value);
        return *this;
    }
    Demands& positive(std::string_view symbol, double value) {
        return finite(symbol, value).that(value > 0.0, symbol, "it must be above 0");
    }
    Demands& not_negative(std::string_view symbol, double value) {
        return finite(symbol, value).that(value >= 0.0, symbol, "it must not be below 0");
    }
    /// An inner probability: above 0 and below 1.
    Demands& inner_share(std::string_view symbol, double value) {
        return finite(symbol, value)
            .that(value > 0.0 && value < 1.0, symbol, "it must lie between 0 and 1");
    }

    [[nodiscard]] const std::optional<Problem>& unmet() const { return unmet_; }

private:
    std::string_view where_;
    std::optional<Problem> unmet_;
};

}  // namespace wm::measure
