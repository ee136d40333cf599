// The probability of conformity.
#include "measure/conformity.hpp"

#include <limits>

#include "measure/demands.hpp"
#include "measure/distributions.hpp"

namespace wm::measure {

Result<double> probability_conforming(const Measured& measured, const Limits& limits) {
    const auto& [y, u] = measured;
    Demands demands{"conformity-probability"};
    demands.finite("y", y).not_negative("u", u).that(limits.low || limits.high, "T_L or T_U",
                                                     "at least one limit is needed");
    if (limits.low) demands.finite("T_L", *limits.low);
    if (limits.high) demands.finite("T_U", *limits.high);
    if (limits.low && limits.high) {
        demands.that(*limits.low <= *limits.high, "T_L", "it must not lie above T_U");
    }
    if (demands.unmet()) return refused(*demands.unmet());

    constexpr double infinity = std::numeric_limits<double>::infinity();
    const double low = limits.low.value_or(-infinity);
    const double high = limits.high.value_or(infinity);
    if (u == 0.0) return y >= low && y <= high ? 1.0 : 0.0;
    return normal_between((low - y) / u, (high - y) / u);
}

Likelihood likelihood_of(double probability) {
    if (probability >= 0.95) return Likelihood::Pass;
    if (probability <= 0.05) return Likelihood::Fail;
    return Likelihood::Undecided;
}

}  // namespace wm::measure
