#include "plant/wind.hpp"

#include <algorithm>
#include <cmath>

#include "plant/inputs.hpp"
#include "plant/water.hpp"

namespace wm::plant {

using units::newtons;
using units::pascals;

namespace {

constexpr double gravity = 9.80665;
constexpr double eurocode_air = 1.25;
constexpr int most_anchors = 1000;

struct Roughness {
    double length_m, least_height_m;
};

Roughness roughness(Terrain terrain) {
    switch (terrain) {
        case Terrain::Sea:
            return {0.003, 1.0};
        case Terrain::Lakeside:
            return {0.01, 1.0};
        case Terrain::OpenCountry:
            return {0.05, 2.0};
        case Terrain::Suburb:
            return {0.3, 5.0};
        case Terrain::City:
            return {1.0, 10.0};
    }
    return {0.003, 1.0};
}

// Whole anchors for a demand; a demand that is exactly n anchors must not become n + 1 by rounding.
int anchors_for(double demand_n, double resistance_n) {
    const double anchors = std::ceil(demand_n / resistance_n * (1.0 - 1e-12));
    return static_cast<int>(std::clamp(anchors, 0.0, static_cast<double>(most_anchors)));
}

}  // namespace

Result<units::PressureDifference> gust_pressure(units::Speed gust, units::Density air) {
    Inputs inputs{"wind pressure"};
    inputs.within("gust speed", gust.si(), 0.0, 100.0, "m/s")
        .within("air density", air.si(), 0.5, 1.6, "kg/m³");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return pascals(0.5 * air.si() * gust.si() * gust.si());
}

Result<PeakWind> peak_wind(units::Speed basic_wind, units::Length height, Terrain terrain) {
    Inputs inputs{"peak wind pressure"};
    inputs.within("basic wind", basic_wind.si(), 0.0, 60.0, "m/s")
        .within("height", height.si(), 0.0, 200.0, "m");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto [z0, z_min] = roughness(terrain);
    const double logarithm = std::log(std::max(height.si(), z_min) / z0);
    const double k_r = 0.19 * std::pow(z0 / 0.05, 0.07);
    const double share = k_r * logarithm;
    const double turbulence = 1.0 / logarithm;
    const double exposure_factor = (1.0 + 7.0 * turbulence) * share * share;
    const double v = basic_wind.si();
    return PeakWind{.mean_speed = units::metres_per_second(share * v),
                    .turbulence = turbulence,
                    .peak_pressure = pascals(exposure_factor * 0.5 * eurocode_air * v * v),
                    .exposure = exposure_factor};
}

Result<double> exposure(units::Length height, Terrain terrain) {
    return peak_wind(units::metres_per_second(0.0), height, terrain).map([](const PeakWind& wind) {
        return wind.exposure;
    });
}

Result<AnchorDemand> anchor_demand(const Anchoring& set) {
    Inputs inputs{"number of anchors"};
    inputs.within("suction factor", set.suction_factor, 0.0, 10.0, "")
        .within("wind pressure", set.wind.si(), 0.0, 10000.0, "Pa")
        .positive("area", set.area.si(), "m²")
        .not_negative("mass", set.mass.si(), "kg")
        .within("roof pitch", set.roof_pitch.in_degrees(), 0.0, 90.0, "°")
        .positive("tension one anchor takes", set.anchor_tension.si(), "N")
        .positive("shear one anchor takes", set.anchor_shear.si(), "N")
        .not_negative("factor on wind", set.wind_factor, "")
        .not_negative("factor on favourable weight", set.favourable_weight_factor, "")
        .not_negative("factor on unfavourable weight", set.unfavourable_weight_factor, "")
        .within("least number of anchors", set.least_anchors, 1, most_anchors, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double weight = set.mass.si() * gravity;
    const double pitch = set.roof_pitch.in_radians();
    const double across = set.wind_factor * set.suction_factor * set.wind.si() * set.area.si() -
                          set.favourable_weight_factor * weight * std::cos(pitch);
    const double along = set.unfavourable_weight_factor * weight * std::sin(pitch);
    const double tension = set.anchor_tension.si();
    const double shear = set.anchor_shear.si();
    inputs.holds(across / tension < most_anchors && along / shear < most_anchors,
                 "The demand is more than a thousand of these anchors.",
                 "Check the resistance of one anchor and its unit.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const int anchors =
        std::max({set.least_anchors, anchors_for(across, tension), anchors_for(along, shear)});
    const double in_tension = std::max(0.0, across) / (anchors * tension);
    const double in_shear = along / (anchors * shear);
    return AnchorDemand{.across_roof = newtons(across),
                        .along_roof = newtons(along),
                        .anchors = anchors,
                        .interaction = in_tension * in_tension + in_shear * in_shear};
}

Result<RoofLoad> roof_load(const FilledSet& set) {
    Inputs inputs{"roof load"};
    inputs.not_negative("mass of the tank", set.tank.si(), "kg")
        .positive("volume of the store", set.store.si() * 1e3, "L")
        .not_negative("mass of the collector", set.collector.si(), "kg")
        .not_negative("mass of the loop fluid", set.loop_fluid.si(), "kg")
        .not_negative("mass of the frame", set.frame.si(), "kg")
        .positive("plan area", set.plan_area.si(), "m²")
        .within("number of feet", set.feet, 1, 100, "")
        .within("unevenness factor", set.unevenness, 1.0, 10.0, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto water = liquid_water(set.fill);
    if (!water) return tl::unexpected(water.error());
    const auto mass =
        set.tank + water->density * set.store + set.collector + set.loop_fluid + set.frame;
    const double weight = mass.si() * gravity;
    return RoofLoad{.mass = mass,
                    .pressure = pascals(weight / set.plan_area.si()),
                    .foot = newtons(weight / set.feet * set.unevenness)};
}

}  // namespace wm::plant
