#include "plant/mixing.hpp"

#include <array>
#include <cmath>

#include "plant/inputs.hpp"

namespace wm::plant {

using units::Temperature;

namespace {

struct Row {
    double celsius, second_degree_s, full_thickness_s;
};

// Moritz & Henriques 1947, as tabulated in plumbing-safety literature.
constexpr std::array exposure = {Row{45, 7200, 10800}, Row{47, 1200, 2700}, Row{48, 900, 1200},
                                 Row{49, 480, 600},    Row{51, 120, 252},   Row{55, 17, 30},
                                 Row{60, 3, 5}};

double between_logarithms(double low, double high, double along) {
    return std::exp(std::log(low) + along * (std::log(high) - std::log(low)));
}

Inputs mixture_inputs(const Mixture& m) {
    Inputs inputs{"mixing"};
    inputs.within("mixed temperature", m.mixed.in_celsius(), -10.0, 200.0, "°C")
        .within("hot temperature", m.hot.in_celsius(), -10.0, 200.0, "°C")
        .within("cold temperature", m.cold.in_celsius(), -10.0, 200.0, "°C")
        .holds(m.hot > m.cold, "The hot water is not hotter than the cold.",
               "Check both temperatures.")
        .holds(m.mixed >= m.cold && m.mixed <= m.hot, "The mixture is not between cold and hot.",
               "Check the three temperatures and where each was taken.");
    return inputs;
}

}  // namespace

Result<double> hot_share(const Mixture& mixture) {
    const auto inputs = mixture_inputs(mixture);
    if (inputs.complaint()) return refused(*inputs.complaint());
    return units::ratio(mixture.mixed - mixture.cold, mixture.hot - mixture.cold);
}

Result<Temperature> mixed_temperature(Temperature hot, Temperature cold, double hot_share) {
    auto inputs = mixture_inputs({.mixed = cold, .hot = hot, .cold = cold});
    inputs.within("share of hot water", hot_share, 0.0, 1.0, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return cold + (hot - cold) * hot_share;
}

Result<units::Volume> mixed_volume(units::Volume store, const Mixture& mixture) {
    auto inputs = mixture_inputs(mixture);
    inputs.positive("volume of the store", store.si() * 1e3, "L")
        .holds(mixture.mixed > mixture.cold, "The mixture is as cold as the cold water.",
               "Give a mixed temperature above that of the cold water.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return store * units::ratio(mixture.hot - mixture.cold, mixture.mixed - mixture.cold);
}

Result<std::optional<ScaldTimes>> scald_times(Temperature water) {
    const double t = water.in_celsius();
    Inputs inputs{"time to a scald"};
    inputs.within("water temperature", t, 0.0, 100.0, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    // 45 °C in kelvin and back is 45 °C less a rounding, and still a scald.
    constexpr double rounding = 1e-9;
    if (t < exposure.front().celsius - rounding) return std::nullopt;
    std::size_t upper = 1;
    while (upper + 1 < exposure.size() && exposure[upper].celsius < t) ++upper;
    const auto& low = exposure[upper - 1];
    const auto& high = exposure[upper];
    const double along =
        std::fmin(1.0, std::fmax(0.0, (t - low.celsius) / (high.celsius - low.celsius)));
    return ScaldTimes{
        .second_degree =
            units::seconds(between_logarithms(low.second_degree_s, high.second_degree_s, along)),
        .full_thickness =
            units::seconds(between_logarithms(low.full_thickness_s, high.full_thickness_s, along))};
}

Result<units::Time> burn_time(Temperature basal_layer) {
    constexpr double log10_rate_per_s = 98.0;
    constexpr double rate_factor = 3.1;
    constexpr double activation_j_mol = 627900.0;
    constexpr double gas_constant = 8.314;
    constexpr double rounding = 1e-9;
    Inputs inputs{"burn integral"};
    inputs.within("temperature of the skin", basal_layer.in_celsius(), 44.0 - rounding,
                  55.0 + rounding, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double exponent = activation_j_mol / (gas_constant * basal_layer.in_kelvin()) -
                            log10_rate_per_s * std::log(10.0) - std::log(rate_factor);
    return units::seconds(std::exp(exponent));
}

}  // namespace wm::plant
