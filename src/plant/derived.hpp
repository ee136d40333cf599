// What a job derives from its facts: loads, pressures, glycol, tilt, expected warming.
//
// Every figure that is a convention and not physics is a field of Conventions, which the quality
// lead may change; the defaults stand beside their source. A maker's or engineer's figure wins.
#pragma once

#include <optional>

#include "plant/collector.hpp"
#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// Common practice, no source, unless a field says otherwise.
struct Conventions {
    double uplift_factor = 1.5;  ///< on wind uplift, for fixings and ballast
    double load_factor = 1.5;    ///< on weight and snow at a bearing point
    double uneven_feet_factor = 1.3;  ///< heaviest foot of a full store over the mean of its feet
    double tank_drag = 1.2;  ///< of a lying cylinder in the wind; EN 1991-1-4, from memory
    double wind_down_factor = 1.3;  ///< of the gust pressure, pressing the collector down
    units::Mass frame_mass = units::kilograms(15.0);
    units::Density air_density = units::Density::from_si(1.25);  ///< EN 1991-1-4
    double net_wind_factor = 1.3;  ///< of the gust pressure, on the whole collector
    int fixings_least = 4;
    double proof_pull_factor = 1.25;     ///< on the uplift share of a drilled anchor
    double friction = 0.4;               ///< between ballast and roof
    double ballast_weight_factor = 0.9;  ///< share of dead weight that counts against wind
    units::TemperatureRise frost_margin = units::kelvins(5.0);
    units::TemperatureRise glycol_step_margin = units::kelvins(2.0);
    double glycol_least_pct = 30.0;
    double glycol_most_pct = 50.0;
    units::Volume concentrate_spare = units::litres(0.5);
    units::Volume premix_spare = units::litres(1.0);
    double test_share = 0.8;  ///< of a relief setting; EN 806, from memory
    units::Angle tilt_over_latitude = units::Angle::degrees(5.0);
    units::Angle tilt_least = units::Angle::degrees(20.0);
    units::Angle tilt_most = units::Angle::degrees(50.0);
    units::TemperatureRise loop_rise_at_800 = units::kelvins(10.0);  ///< at 800 W/m²
    double day_gain = 0.45;  ///< share of a day's sun that reaches the store
    double hour_gain = 0.5;  ///< share of the sun in a good hour
    units::Expansivity copper_growth =
        units::Expansivity::from_si(17e-6);       ///< handbook, from memory
    double collector_optical = 0.80;  ///< of a collector whose sheet is not at hand
    LossCoefficient collector_loss = LossCoefficient::from_si(3.5);
    QuadraticLossCoefficient collector_quadratic_loss = QuadraticLossCoefficient::from_si(0.015);
    units::Conductance store_loss = units::Conductance::from_si(3.0);  ///< of a store whose sheet is not at hand
    double gain_least = 0.80;  ///< of the heat a collector should give, in the heat balance
    units::Irradiance stagnation_sun = units::Irradiance::from_si(1000.0);  ///< ISO 9806
    units::Temperature stagnation_air = units::Temperature::celsius(30.0);  ///< ISO 9806
    units::Irradiance sun_most = units::Irradiance::from_si(1200.0);  ///< between bright clouds
    double vessel_end_share = 0.9;  ///< of the lowest relief setting, for an expansion vessel
    units::Length elbow_22 = units::metres(0.8);  ///< pipe that one elbow stands for
    units::Length elbow_28 = units::metres(1.0);
    units::Temperature outlet_most = units::Temperature::celsius(50.0);
    units::Temperature outlet_most_vulnerable = units::Temperature::celsius(45.0);
};

/// 101.325 kPa (1 − 2.25577·10⁻⁵ h)^5.25588. −500 m to 11 000 m. Source: ISO 2533, the standard
/// atmosphere (from memory). Trap: the weather moves it by 3 % either way.
[[nodiscard]] Result<units::AbsolutePressure> station_pressure(units::Length altitude);

/// 100 °C less 1 K per 300 m: within 0.1 K of the vapour curve to 4000 m. −500 m to 5000 m.
[[nodiscard]] Result<units::Temperature> boiling_point_at(units::Length altitude);

/// A compass bearing turned to true north: bearing plus declination (east positive), modulo 360°.
struct CompassBearing {
    units::Angle magnetic;
    units::Angle declination;
};
[[nodiscard]] Result<units::Angle> true_bearing(const CompassBearing& bearing);

/// Smallest angle between two bearings, 0° to 180°.
[[nodiscard]] Result<units::Angle> bearing_gap(units::Angle one, units::Angle other);

/// Where a collector should face: 180° north of the equator, 0° south of it.
[[nodiscard]] Result<units::Angle> bearing_to_equator(units::Angle latitude);

/// The latitude plus a convention in favour of winter, kept between two conventions.
[[nodiscard]] Result<units::Angle> best_tilt(units::Angle latitude, const Conventions& by = {});

struct SetParts {
    units::Mass tank_dry;
    units::Volume tank;
    units::Volume jacket;
    units::Mass collector;
    units::Volume collector_content;
    std::optional<units::Mass> frame;  ///< its maker's figure; otherwise the convention
};
/// The set as it stands full, a litre of water or mixture counted as one kilogram.
[[nodiscard]] Result<units::Mass> set_mass(const SetParts& parts, const Conventions& by = {});

/// A full store on its own feet: the heaviest foot carries more than the mean.
struct StoreOnFeet {
    units::Mass full;
    int feet = 4;
};

struct BearingLoad {
    units::Mass set;
    units::PressureDifference snow;
    units::Area collector;
    int points;
    std::optional<StoreOnFeet> store{};  ///< when its feet are known
    /// Of the gust, where it is to press as well.
    units::PressureDifference wind = units::pascals(0.0);
};
/// The larger of two, times the load factor: weight (9.81 m/s²), snow and wind pressing down,
/// shared over the points; and the full store over its own feet, times the uneven factor.
[[nodiscard]] Result<units::Force> point_load(const BearingLoad& load, const Conventions& by = {});

/// Half the air density times the gust squared.
[[nodiscard]] Result<units::PressureDifference> wind_pressure(units::Speed gust,
                                                              const Conventions& by = {});

/// Net factor times wind pressure times collector area.
[[nodiscard]] Result<units::Force> uplift(units::PressureDifference wind, units::Area collector,
                                          const Conventions& by = {});

/// Whole fixings for the uplift with its factor, never fewer than the least number.
struct Fixing {
    units::Force uplift;
    units::Force design_resistance;  ///< of one fixing
};
[[nodiscard]] Result<int> fixings_needed(const Fixing& fixing, const Conventions& by = {});

/// Proof load of one drilled anchor.
[[nodiscard]] Result<units::Force> proof_pull(units::Force uplift, int fixings,
                                              const Conventions& by = {});

/// The body of the store in the wind, and what it could tip over.
struct StoreInWind {
    units::Length length;
    units::Length across;  ///< its diameter
    units::Length axis;    ///< height of its axis over its feet
    units::Length base;    ///< between the front and the back feet
};
/// Drag factor times wind pressure times length times diameter.
[[nodiscard]] Result<units::Force> store_drag(const StoreInWind& store,
                                              units::PressureDifference wind,
                                              const Conventions& by = {});

struct Tipping {
    units::Force drag;  ///< at the axis of the store
    units::Length axis;
    units::Length base;
    units::Mass empty;  ///< of the store without water
    int feet = 4;
};
/// Pull at each foot on the windward side, at least 0 N: moment of the drag with its factor less
/// that of the counted dead weight about the lee feet, over the base and half of the feet.
[[nodiscard]] Result<units::Force> tipping_pull(const Tipping& store, const Conventions& by = {});

struct HardestFixing {
    units::Force uplift;
    int fixings;
    units::Force tipping;
};
/// Share of the uplift with its factor, and the pull of tipping that already has it.
[[nodiscard]] Result<units::Force> fixing_pull(const HardestFixing& pull,
                                               const Conventions& by = {});

struct BallastTipping {
    units::Force drag;
    units::Length axis;
    units::Length base;
};
struct Ballasted {
    units::Force uplift;
    units::Mass empty;  ///< dead weight of the set without water
    units::Angle tilt;
    std::optional<BallastTipping> store{};
};
/// The largest of what holds against lifting, sliding and, where the store is described, tipping
/// (ballast in the middle of its base), at least 0 kg. An engineer signs, the tool only shows it.
/// Tilt 0° to 90°.
[[nodiscard]] Result<units::Mass> ballast_needed(const Ballasted& set, const Conventions& by = {});

/// Content of a metre of pipe with a wall of 1 mm, as area.
[[nodiscard]] Result<units::Area> pipe_content(units::Length outside);

struct LoopParts {
    units::Volume collector;
    units::Volume jacket;
    units::Length run;      ///< of both loop pipes together
    units::Length outside;  ///< of the pipe, wall 1 mm
};
[[nodiscard]] Result<units::Volume> loop_volume(const LoopParts& parts);

/// Lowest air temperature less the frost margin: on clear nights the plate is colder than the air.
[[nodiscard]] Result<units::Temperature> freezing_point_needed(units::Temperature lowest_air,
                                                               const Conventions& by = {});

/// Weakest step of 5 % by volume whose first ice lies the step margin below what is needed. The
/// problem when no step reaches it: no indirect set there without the maker's written leave.
[[nodiscard]] Result<double> glycol_percent(units::Temperature freezing_point_needed,
                                            const Conventions& by = {});

/// Concentrate for the loop at that strength, with the spare.
[[nodiscard]] Result<units::Volume> glycol_concentrate(units::Volume loop, double percent,
                                                       const Conventions& by = {});
/// Ready mixture for the loop, with the spare.
[[nodiscard]] Result<units::Volume> glycol_premix(units::Volume loop, const Conventions& by = {});

struct TestedZone {
    units::GaugePressure relief;       ///< setting of the set's relief valve
    units::Length relief_above_gauge;  ///< negative if the valve hangs lower
    units::GaugePressure tank_most;
    std::optional<units::GaugePressure> collector_most;  ///< a direct set only
    std::optional<units::GaugePressure> heater_relief;   ///< a heater in the same zone only
    std::optional<units::GaugePressure> heater_most;     ///< likewise
};
/// What the gauge should show in the pressure test: a share of the relief setting plus the water
/// column up to it, and never above what tank, direct collector and heater take. A heater that
/// takes no pressure (vented) cannot be in the zone and is refused.
[[nodiscard]] Result<units::GaugePressure> test_pressure(const TestedZone& zone,
                                                         const Conventions& by = {});

/// Highest supply pressure: a share of the lowest relief setting in the zone.
[[nodiscard]] Result<units::GaugePressure> highest_supply_pressure(
    units::GaugePressure relief, std::optional<units::GaugePressure> heater_relief,
    const Conventions& by = {});

/// Water pushed out on heating from 15 °C to the highest temperature the store can reach.
/// Source: as expansion_volume.
[[nodiscard]] Result<units::Volume> heating_expansion(units::Volume store, units::Volume heater,
                                                      units::Temperature hottest);

/// Copper pipe grows by length times rise times coefficient.
[[nodiscard]] Result<units::Length> pipe_growth(units::Length pipe, units::TemperatureRise rise,
                                                const Conventions& by = {});

enum class DischargeSize { Od22, Od28 };
/// Length that counts against the limit of a discharge pipe: the run, and a length per elbow.
[[nodiscard]] Result<units::Length> discharge_length(units::Length run, int elbows,
                                                     DischargeSize size,
                                                     const Conventions& by = {});

/// Laminar natural circulation gives a rise that grows with the root of the sun.
[[nodiscard]] Result<units::TemperatureRise> expected_loop_rise(units::Irradiance sun,
                                                                const Conventions& by = {});

/// Warming of the whole store with no draw-off: by a day's sun on the collector, and per hour.
[[nodiscard]] Result<units::TemperatureRise> day_rise(units::Irradiation day, units::Area collector,
                                                      units::Volume store,
                                                      const Conventions& by = {});
[[nodiscard]] Result<units::TemperatureRise> hour_rise(units::Irradiance sun, units::Area collector,
                                                       units::Volume store,
                                                       const Conventions& by = {});

struct Night {
    units::Temperature at_dusk;
    units::Temperature mean_air;
    units::Conductance loss;
    units::Time length;
    units::Volume store;
};
/// Exponential cooling of a mixed store.
[[nodiscard]] Result<units::TemperatureRise> night_drop(const Night& night);

/// Resistance of a heating element from its plate: voltage squared over power.
[[nodiscard]] Result<units::Resistance> element_resistance(units::Voltage plate_voltage,
                                                           units::Power plate_power);

/// Small children, old or disabled people in the house take the lower limit.
enum class Household { Usual, Vulnerable };
[[nodiscard]] units::Temperature outlet_most(Household household, const Conventions& by = {});

/// Torque for greased stainless class 70 when the bracket maker gives none. Never for timber
/// screws, seam clamps or glass clamps. Source: VDI 2230 with ISO 3506-1, from memory.
enum class BoltSize { M6, M8, M10, M12 };
[[nodiscard]] units::Torque default_anchor_torque(BoltSize size);

}  // namespace wm::plant
