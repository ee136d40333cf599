// Wind on the collector, the fixings that hold it down, and the weight on the roof. Orientation
// only: the structural designer decides.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// Half the air density times the speed squared. The speed is a 3-second gust at the height of
/// the collector, 0 to 100 m/s. Source: the metric velocity pressure 0.613 v² of ASCE 7.
/// Trap: never feed this a 10-minute mean, nor peak_wind a gust: the pressure would double.
[[nodiscard]] Result<units::PressureDifference> gust_pressure(
    units::Speed gust, units::Density air = units::Density::from_si(1.226));

/// Terrain of EN 1991-1-4 Table 4.1, from the open sea (0) to the middle of a city (IV).
enum class Terrain { Sea, Lakeside, OpenCountry, Suburb, City };

struct PeakWind {
    units::Speed mean_speed;  ///< at the height
    double turbulence;        ///< standard deviation over mean
    units::PressureDifference peak_pressure;
    double exposure;  ///< peak pressure over that of the basic wind
};

/// Mean wind by the logarithmic law of the terrain, then the peak of its turbulence. The basic
/// wind is a 10-minute mean at 10 m in open country, 0 to 60 m/s; height to 200 m, below the
/// least height of the terrain that height counts. Flat ground (orography 1), air 1.25 kg/m³.
/// Source: EN 1991-1-4:2005, eqs (4.3) to (4.8), Table 4.1. Trap: national annexes change the air
/// density, the roughness and the direction factor.
[[nodiscard]] Result<PeakWind> peak_wind(units::Speed basic_wind, units::Length height,
                                         Terrain terrain);

/// The exposure alone, which does not depend on the wind.
[[nodiscard]] Result<double> exposure(units::Length height, Terrain terrain);

/// What holds a set down. The defaults of the four factors are our convention, from EN 1990:2002
/// Table A1.2 but for the least number of anchors (common practice, no source).
struct Anchoring {
    double suction_factor = 1.5;  ///< net; use a designer's figure where there is one
    units::PressureDifference wind;
    units::Area area;
    units::Mass mass;  ///< the EMPTY set: the day it is drained is the case
    units::Angle roof_pitch;
    units::Force anchor_tension;  ///< design resistance of one fixing, from its approval
    units::Force anchor_shear;
    double wind_factor = 1.5;
    double favourable_weight_factor = 0.9;
    double unfavourable_weight_factor = 1.35;
    int least_anchors = 4;
};

struct AnchorDemand {
    units::Force across_roof;  ///< positive lifts; negative rests on the roof by its weight
    units::Force along_roof;
    int anchors;
    double interaction;  ///< of tension and shear with that many; above 1 is a warning
};

/// Wind suction less the favourable share of the weight across the roof, the unfavourable share
/// along it; as many anchors as the greater demand asks, never fewer than the least number.
/// Pitch 0° to 90°. Source: EN 1990:2002 Table A1.2, EN 1991-1-4 section 7.
/// Trap: screws depend on the timber under them, and sealant is no anchor.
[[nodiscard]] Result<AnchorDemand> anchor_demand(const Anchoring& set);

struct FilledSet {
    units::Mass tank;
    units::Volume store;
    units::Temperature fill;
    units::Mass collector;
    units::Mass loop_fluid;
    units::Mass frame;
    units::Area plan_area;  ///< as seen from above
    int feet = 4;
    double unevenness = 1.3;  ///< of the load on one foot; common practice, no source
};

struct RoofLoad {
    units::Mass mass;
    units::PressureDifference pressure;  ///< spread over the plan area
    units::Force foot;
};

/// All weights with the store full of water at the filling temperature. Source: weights; EN
/// 1991-1-1. Trap: on stilts nearly all water stands on two feet: use the tank's own feet.
[[nodiscard]] Result<RoofLoad> roof_load(const FilledSet& set);

}  // namespace wm::plant
