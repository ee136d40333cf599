// Least squares.
#include "measure/line_fit.hpp"

#include <algorithm>
#include <cmath>

#include "measure/demands.hpp"
#include "measure/distributions.hpp"

namespace wm::measure {
namespace {

double mean(std::span<const double> values) {
    // Distances from the first value: a clock counts in billions, its steps in minutes.
    double sum = 0.0;
    for (const double value : values) sum += value - values.front();
    return values.front() + sum / static_cast<double>(values.size());
}

}  // namespace

Result<LineFit> fitted_line(std::span<const double> x, std::span<const double> y) {
    Demands demands{"line-fit"};
    demands.that(x.size() == y.size(), "x and y", "both need the same number of readings")
        .that(x.size() >= 3, "x", "a line with its uncertainty needs at least 3 readings")
        .all_finite("x", x)
        .all_finite("y", y);
    if (demands.unmet()) return refused(*demands.unmet());

    const double x_mean = mean(x);
    const double y_mean = mean(y);
    double s_xx = 0.0;
    double s_xy = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        s_xx += (x[i] - x_mean) * (x[i] - x_mean);
        s_xy += (x[i] - x_mean) * (y[i] - y_mean);
    }
    demands.that(s_xx > 0.0, "x", "not all of them can be equal")
        .that(std::isfinite(s_xx) && std::isfinite(s_xy), "x and y",
              "they are too large to square");
    if (demands.unmet()) return refused(*demands.unmet());

    LineFit fit;
    fit.slope = s_xy / s_xx;
    fit.intercept = y_mean - fit.slope * x_mean;
    fit.spread = s_xx;
    fit.readings = x.size();
    double residual = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double off = (y[i] - y_mean) - fit.slope * (x[i] - x_mean);
        residual += off * off;
    }
    fit.scatter = std::sqrt(residual / (static_cast<double>(x.size()) - 2.0));
    fit.slope_uncertainty = fit.scatter / std::sqrt(s_xx);
    return fit;
}

Result<SlopeInterval> slope_interval(const LineFit& fit, double confidence) {
    if (auto problem = Demands{"line-fit"}.inner_share("conf", confidence).unmet()) {
        return refused(*problem);
    }
    const double t = t_quantile(0.5 + 0.5 * confidence, static_cast<double>(fit.readings) - 2.0);
    return SlopeInterval{fit.slope - t * fit.slope_uncertainty,
                         fit.slope + t * fit.slope_uncertainty};
}

}  // namespace wm::measure
