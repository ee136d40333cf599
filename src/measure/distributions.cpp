// Distribution functions and quantiles.
#include "measure/distributions.hpp"

#include <cmath>
#include <numbers>

namespace wm::measure {

double normal_cdf(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

double normal_between(double from, double to) {
    if (from > 0.0) return normal_cdf(-from) - normal_cdf(-to);
    return normal_cdf(to) - normal_cdf(from);
}

}  // namespace wm::measure
