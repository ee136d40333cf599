#include "plant/legionella.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "plant/inputs.hpp"

namespace wm::plant {

namespace {

struct Row {
    double celsius, minutes;
};

// Sanden et al. 1989, abstract.
constexpr std::array published = {Row{45, 2500}, Row{50, 380}, Row{55, 13.93}, Row{60, 0.74},
                                  Row{66, 0.45}};
constexpr double rounding = 1e-9;  // of a temperature that went to kelvin and back

double reduction_min(double celsius) {
    std::size_t upper = 1;
    while (upper + 1 < published.size() && published[upper].celsius < celsius - rounding) ++upper;
    const auto& low = published[upper - 1];
    const auto& high = published[upper];
    const double along =
        std::clamp((celsius - low.celsius) / (high.celsius - low.celsius), 0.0, 1.0);
    return std::pow(10.0, std::log10(low.minutes) +
                              along * (std::log10(high.minutes) - std::log10(low.minutes)));
}

}  // namespace

Result<units::Time> decimal_reduction_time(units::Temperature water) {
    Inputs inputs{"decimal reduction of legionella"};
    inputs.within("water temperature", water.in_celsius(), published.front().celsius - rounding,
                  published.back().celsius + rounding, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return units::minutes(reduction_min(water.in_celsius()));
}

Result<units::Time> hold_time(units::Temperature water, double decades) {
    Inputs inputs{"hold time against legionella"};
    inputs.positive("number of decades", decades, "")
        .within("number of decades", decades, 0.0, 20.0, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return decimal_reduction_time(water).map([&](units::Time once) { return once * decades; });
}

Result<double> decades_reached(std::span<const HeldStep> steps) {
    constexpr double counts_from_celsius = 50.0;
    Inputs inputs{"decades of legionella"};
    inputs.holds(!steps.empty(), "There are no steps.",
                 "Give at least one temperature with its time.");
    double decades = 0.0;
    for (const auto& step : steps) {
        const double t = step.water.in_celsius();
        inputs.within("water temperature", t, -10.0, 110.0, "°C")
            .not_negative("time", step.time.si() / 60.0, "min");
        if (inputs.complaint()) break;
        if (t >= counts_from_celsius - rounding)
            decades += step.time.si() / 60.0 / reduction_min(t);
    }
    if (inputs.complaint()) return refused(*inputs.complaint());
    return decades;
}

}  // namespace wm::plant
