#include "plant/glycol.hpp"

#include <array>
#include <cmath>

#include "plant/inputs.hpp"

namespace wm::plant {

using units::Temperature;

namespace {

struct Step {
    double percent, celsius;
};

// Lange's Handbook of Chemistry, 15th ed., Table 5.13.
constexpr std::array handbook = {Step{0, 0},      Step{5, -1.1},   Step{10, -2.2},  Step{15, -3.9},
                                 Step{20, -6.7},  Step{25, -8.9},  Step{30, -12.8}, Step{35, -16.1},
                                 Step{40, -20.6}, Step{45, -26.7}, Step{50, -33.3}};

constexpr double glycol_kg_m3 = 1036.1;
constexpr double water_kg_m3 = 998.2;
constexpr double least_fraction = 0.15;
constexpr double most_fraction = 0.57;

using Row = std::array<double, 6>;  // powers of the mass fraction
using Grid = std::array<Row, 4>;    // powers of the temperature

// Melinder 2010, about x = 0.307031 and T = 305.8583 K.
constexpr Row freezing_k = {259.9, -66.31, -109.4, -228.3, -340.9, 146.5};
constexpr Grid density = {{{1018, 76.04, -24.98, -155, -113.1, 234.2},
                           {-0.5406, -0.945, 0.27, 2.829, -2.221, 0},
                           {-0.002666, 0.005541, -0.004018, -0.007175, 0, 0},
                           {1.347e-05, -1.343e-05, 3.376e-05, 0, 0, 0}}};
constexpr Grid specific_heat = {{{3882, -1304, -1598, 353.9, 5000, -4959},
                                 {2.699, 5.07, 0.9534, 31.02, -71.35, 0},
                                 {-0.001659, -0.004752, 0.1167, -0.295, 0, 0},
                                 {-1.032e-05, 0.0001522, -0.000487, 0, 0, 0}}};
constexpr Grid log_viscosity = {{{-6.22405, 3.328, 0.5453, -3.9, -1.587, 35.64},
                                 {-0.03045, -0.03984, -0.00086, 0.1054, 0.04475, 0},
                                 {0.0002525, 0.0004332, -0.0001593, -0.001589, 0, 0},
                                 {-1.399e-06, -1.86e-06, -4.465e-07, 0, 0, 0}}};

double polynomial(const Row& row, double x) {
    double sum = 0.0;
    for (auto c = row.rbegin(); c != row.rend(); ++c) sum = sum * x + *c;
    return sum;
}

double polynomial(const Grid& grid, double t, double x) {
    double sum = 0.0;
    for (auto row = grid.rbegin(); row != grid.rend(); ++row) sum = sum * t + polynomial(*row, x);
    return sum;
}

Inputs& refuse_other_mixtures(Inputs& inputs, double mass_fraction) {
    return inputs.within("mass fraction of glycol", mass_fraction, least_fraction, most_fraction,
                         "");
}

double freezing_point_k(double mass_fraction) {
    return polynomial(freezing_k, mass_fraction - 0.307031);
}

}  // namespace

Result<Temperature> glycol_freezing_point(double percent_by_volume) {
    Inputs inputs{"freezing point of glycol"};
    inputs.within("share of glycol by volume", percent_by_volume, 0.0, 50.0, "%");
    if (inputs.complaint()) return refused(*inputs.complaint());
    std::size_t upper = 1;
    while (upper + 1 < handbook.size() && handbook[upper].percent < percent_by_volume) ++upper;
    const auto& low = handbook[upper - 1];
    const auto& high = handbook[upper];
    const double along = (percent_by_volume - low.percent) / (high.percent - low.percent);
    return Temperature::celsius(low.celsius + along * (high.celsius - low.celsius));
}

Result<double> glycol_mass_fraction(double volume_fraction) {
    Inputs inputs{"mass fraction of glycol"};
    inputs.within("volume fraction of glycol", volume_fraction, 0.0, 1.0, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double glycol = volume_fraction * glycol_kg_m3;
    return glycol / (glycol + (1.0 - volume_fraction) * water_kg_m3);
}

Result<Temperature> glycol_freezing_point_by_mass(double mass_fraction) {
    Inputs inputs{"freezing point of glycol"};
    if (refuse_other_mixtures(inputs, mass_fraction).complaint())
        return refused(*inputs.complaint());
    return Temperature::kelvin(freezing_point_k(mass_fraction));
}

Result<GlycolProperties> glycol_properties(double mass_fraction, Temperature fluid) {
    Inputs inputs{"properties of glycol"};
    if (refuse_other_mixtures(inputs, mass_fraction).complaint())
        return refused(*inputs.complaint());
    const auto freezing = Temperature::kelvin(freezing_point_k(mass_fraction));
    inputs.within("fluid temperature", fluid.in_celsius(), freezing.in_celsius(), 100.0, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double x = mass_fraction - 0.307031;
    const double t = fluid.in_kelvin() - 305.8583;
    std::optional<units::Viscosity> viscosity;
    if (fluid.in_celsius() <= 40.0)
        viscosity = units::Viscosity::from_si(std::exp(polynomial(log_viscosity, t, x)));
    return GlycolProperties{
        .freezing_point = freezing,
        .density = units::Density::from_si(polynomial(density, t, x)),
        .specific_heat = units::SpecificHeat::from_si(polynomial(specific_heat, t, x)),
        .viscosity = viscosity};
}

}  // namespace wm::plant
