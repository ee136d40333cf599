// Settings into conventions.
#include "checklist/conventions.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "units/unit.hpp"

namespace wm::checklist {
namespace {

using plant::Conventions;

struct Binding {
    std::string_view name;
    void (*set)(Conventions&, double si);
};

// Values arrive in SI units; shares of glycol are kept in percent by the plant.
constexpr std::array bindings{
    Binding{"uplift_factor", [](Conventions& c, double si) { c.uplift_factor = si; }},
    Binding{"load_factor", [](Conventions& c, double si) { c.load_factor = si; }},
    Binding{"uneven_feet_factor", [](Conventions& c, double si) { c.uneven_feet_factor = si; }},
    Binding{"tank_drag", [](Conventions& c, double si) { c.tank_drag = si; }},
    Binding{"wind_down_factor", [](Conventions& c, double si) { c.wind_down_factor = si; }},
    Binding{"frame_mass",
            [](Conventions& c, double si) { c.frame_mass = units::Mass::from_si(si); }},
    Binding{"air_density",
            [](Conventions& c, double si) { c.air_density = units::Density::from_si(si); }},
    Binding{"net_wind_factor", [](Conventions& c, double si) { c.net_wind_factor = si; }},
    Binding{"fixings_least",
            [](Conventions& c, double si) { c.fixings_least = static_cast<int>(std::lround(si)); }},
    Binding{"proof_pull_factor", [](Conventions& c, double si) { c.proof_pull_factor = si; }},
    Binding{"friction", [](Conventions& c, double si) { c.friction = si; }},
    Binding{"ballast_weight_factor",
            [](Conventions& c, double si) { c.ballast_weight_factor = si; }},
    Binding{"frost_margin", [](Conventions& c, double si) { c.frost_margin = units::kelvins(si); }},
    Binding{"glycol_step_margin",
            [](Conventions& c, double si) { c.glycol_step_margin = units::kelvins(si); }},
    Binding{"glycol_least_pct", [](Conventions& c, double si) { c.glycol_least_pct = si * 100.0; }},
    Binding{"glycol_most_pct", [](Conventions& c, double si) { c.glycol_most_pct = si * 100.0; }},
    Binding{"concentrate_spare",
            [](Conventions& c, double si) { c.concentrate_spare = units::Volume::from_si(si); }},
    Binding{"premix_spare",
            [](Conventions& c, double si) { c.premix_spare = units::Volume::from_si(si); }},
    Binding{"test_share", [](Conventions& c, double si) { c.test_share = si; }},
    Binding{"tilt_over_latitude",
            [](Conventions& c, double si) { c.tilt_over_latitude = units::Angle::radians(si); }},
    Binding{"tilt_least",
            [](Conventions& c, double si) { c.tilt_least = units::Angle::radians(si); }},
    Binding{"tilt_most",
            [](Conventions& c, double si) { c.tilt_most = units::Angle::radians(si); }},
    Binding{"loop_rise_at_800",
            [](Conventions& c, double si) { c.loop_rise_at_800 = units::kelvins(si); }},
    Binding{"day_gain", [](Conventions& c, double si) { c.day_gain = si; }},
    Binding{"hour_gain", [](Conventions& c, double si) { c.hour_gain = si; }},
    Binding{"copper_growth",
            [](Conventions& c, double si) { c.copper_growth = units::Expansivity::from_si(si); }},
    Binding{"collector_optical", [](Conventions& c, double si) { c.collector_optical = si; }},
    Binding{"collector_loss",
            [](Conventions& c, double si) {
                c.collector_loss = plant::LossCoefficient::from_si(si);
            }},
    Binding{"collector_quadratic_loss",
            [](Conventions& c, double si) {
                c.collector_quadratic_loss = plant::QuadraticLossCoefficient::from_si(si);
            }},
    Binding{"store_loss",
            [](Conventions& c, double si) { c.store_loss = units::Conductance::from_si(si); }},
    Binding{"gain_least", [](Conventions& c, double si) { c.gain_least = si; }},
    Binding{"stagnation_sun",
            [](Conventions& c, double si) { c.stagnation_sun = units::Irradiance::from_si(si); }},
    Binding{"stagnation_air",
            [](Conventions& c, double si) { c.stagnation_air = units::Temperature::kelvin(si); }},
    Binding{"sun_most",
            [](Conventions& c, double si) { c.sun_most = units::Irradiance::from_si(si); }},
    Binding{"vessel_end_share", [](Conventions& c, double si) { c.vessel_end_share = si; }},
    Binding{"elbow_22_m", [](Conventions& c, double si) { c.elbow_22 = units::metres(si); }},
    Binding{"elbow_28_m", [](Conventions& c, double si) { c.elbow_28 = units::metres(si); }},
    Binding{"outlet_most",
            [](Conventions& c, double si) { c.outlet_most = units::Temperature::kelvin(si); }},
    Binding{"outlet_most_vulnerable",
            [](Conventions& c, double si) {
                c.outlet_most_vulnerable = units::Temperature::kelvin(si);
            }},
};

const Binding* binding_of(std::string_view name) {
    const auto* found = std::find_if(bindings.begin(), bindings.end(),
                                     [&](const Binding& binding) { return binding.name == name; });
    return found == bindings.end() ? nullptr : found;
}

// "mm/(m·K)" is how a table prints a growth; in SI it is a thousandth per kelvin.
std::optional<double> si_of(const Setting& setting) {
    constexpr double growth_factor = 1e-3;
    if (setting.unit == "mm/(m·K)") return setting.value * growth_factor;
    const auto unit = units::unit_named(setting.unit);
    return unit ? std::optional{unit->to_si(setting.value)} : std::nullopt;
}

}  // namespace

plant::Conventions conventions_of(const Library& library) {
    Conventions conventions;
    for (const auto& setting : library.settings) {
        const auto* binding = binding_of(setting.name);
        const auto si = si_of(setting);
        if (binding != nullptr && si) binding->set(conventions, *si);
    }
    return conventions;
}

bool is_convention(std::string_view setting) {
    return binding_of(setting) != nullptr;
}

}  // namespace wm::checklist
