// Water, antifreeze, pressures and warmth.

#include <cmath>
#include <optional>
#include <vector>

#include "checklist/conventions.hpp"
#include "checklist/derived_equations.hpp"
#include "plant/derived.hpp"

namespace wm::checklist {
namespace {

using In = Ingredients;
using Si = Result<double>;

Result<units::Volume> loop_of(In& in) {
    const auto run = units::Length::from_si(in.si("sys.run_hot_m") + in.si("sys.run_cold_m"));
    return plant::loop_volume({units::Volume::from_si(in.si("sys.coll_l")),
                               units::Volume::from_si(jacket_m3(in)), run,
                               units::Length::from_si(in.si("sys.pipe_od_mm"))});
}

Result<double> glycol_share(In& in) {
    const auto lowest = units::Temperature::kelvin(in.si("site.t_min_c"));
    const auto needed = plant::freezing_point_needed(lowest, by(in));
    if (!needed) return tl::unexpected(needed.error());
    return plant::glycol_percent(*needed, by(in));
}

Si glycol_litres(In& in) {
    const auto loop = loop_of(in);
    const bool premix = in.word("sys.fluid") == "premix";
    const auto percent = premix ? Result<double>{0.0} : glycol_share(in);
    if (!loop) return tl::unexpected(loop.error());
    if (!percent) return tl::unexpected(percent.error());
    return si_of(premix ? plant::glycol_premix(*loop, by(in))
                        : plant::glycol_concentrate(*loop, *percent, by(in)));
}

Si test_pressure(In& in) {
    plant::TestedZone zone{
        .relief = gauge(in.si("sys.relief_kpa")),
        .relief_above_gauge = units::Length::from_si(in.si("pos.gauge_to_relief_m")),
        .tank_most = gauge(in.si("sys.tank_max_kpa")),
        .collector_most = std::nullopt,
        .heater_relief = gauge(heater_relief(in)),
        .heater_most = std::nullopt};
    if (is_direct(in)) zone.collector_most = gauge(in.si("sys.coll_max_kpa"));
    if (heater_in_zone(in)) zone.heater_most = gauge(in.si_if_known("heater.max_kpa"));
    return si_of(plant::test_pressure(zone, by(in)));
}

Si limit_high(In& in) {
    return si_of(plant::highest_supply_pressure(gauge(in.si("sys.relief_kpa")),
                                                gauge(heater_relief(in)), by(in)));
}

Si discharge(In& in) {
    constexpr double larger_pipe_m = 0.025;
    const auto size = in.si("sys.pipe_od_mm") > larger_pipe_m ? plant::DischargeSize::Od28
                                                              : plant::DischargeSize::Od22;
    return si_of(plant::discharge_length(units::Length::from_si(in.si("sys.run_disch_m")),
                                         in.count("sys.disch_elbows"), size, by(in)));
}

units::Irradiance sun(In& in) {
    return units::Irradiance::from_si(in.of_check_or_fact(CheckId{"sun-window"}, "wx.irradiance"));
}

Si night(In& in) {
    plant::Night cooling{units::Temperature::kelvin(in.si("wx.dusk_c")),
                         units::Temperature::kelvin(in.si("wx.night_air_c")),
                         units::Conductance::from_si(in.si("sys.ua_wk")),
                         units::Time::from_si(in.si("wx.night_h")),
                         units::Volume::from_si(in.si("sys.tank_l"))};
    return si_of(plant::night_drop(cooling));
}

Si outlet(In& in) {
    const auto household =
        in.yes("customer.vulnerable") ? plant::Household::Vulnerable : plant::Household::Usual;
    return plant::outlet_most(household, by(in)).in_kelvin();
}

}  // namespace

std::vector<DerivedSpec> derived_of_water() {
    return {
        {"d.loop_l",
         "L",
         "content of the loop",
         "collector + jacket + pipe run × content per metre",
         "copper-tube",
         "EN 1057:2006+A1:2010 for the pipe; the sheets of collector and jacket",
         {"sys.coll_l", "sys.jacket_l", "sys.run_hot_m", "sys.run_cold_m", "sys.pipe_od_mm"},
         [](In& in) { return si_of(loop_of(in)); }},
        {"d.fpt_need_c",
         "°C",
         "freezing point needed",
         "lowest air temperature − 5 K",
         "glycol-freezing",
         "margin for the clear sky common practice, no source",
         {"site.t_min_c"},
         [](In& in) {
             return si_of(plant::freezing_point_needed(
                 units::Temperature::kelvin(in.si("site.t_min_c")), by(in)));
         }},
        {"d.glycol_pct",
         "%",
         "strength of the antifreeze",
         "weakest step that freezes 2 K below what is needed",
         "glycol-freezing",
         "Lange's Handbook of Chemistry, 15th ed., Table 5.13",
         {"site.t_min_c"},
         [](In& in) -> Si {
             const auto percent = glycol_share(in);
             if (!percent) return tl::unexpected(percent.error());
             return *percent / 100.0;
         }},
        {"d.glycol_l",
         "L",
         "antifreeze to bring",
         "loop × strength + 0.5 L; premix: loop + 1 L",
         "glycol-freezing",
         "share by volume; spare common practice, no source",
         {"sys.fluid", "sys.coll_l", "sys.jacket_l", "sys.run_hot_m", "sys.run_cold_m",
          "sys.pipe_od_mm", "site.t_min_c"},
         glycol_litres},
        {"d.p_test_kpa",
         "kPa",
         "test pressure at the gauge",
         "0.8 × relief setting + 9.81 kPa per metre up to the relief, never above what the vessels "
         "take",
         "",
         "share of the relief setting common practice, no source; 9.81 kPa a metre hydrostatics",
         {"sys.relief_kpa", "pos.gauge_to_relief_m", "sys.tank_max_kpa", "heater.relief_kpa"},
         test_pressure},
        {"d.p_limit_hi",
         "kPa",
         "highest supply pressure",
         "0.8 × the lowest relief setting of the zone",
         "",
         "common practice, no source",
         {"sys.relief_kpa", "heater.relief_kpa"},
         limit_high},
        {"d.disch_len_m",
         "m",
         "counted length of the discharge pipe",
         "run + elbows × their length",
         "",
         "common practice, no source; counted length of elbows by size",
         {"sys.run_disch_m", "sys.disch_elbows", "sys.pipe_od_mm"},
         discharge},
        {"d.dt_loop_exp",
         "K",
         "expected rise across the loop",
         "10 K × √(sun / 800 W/m²)",
         "thermosiphon-flow",
         "laminar natural circulation, Close 1962 (from memory); 10 K common practice, no source",
         {"wx.irradiance"},
         [](In& in) { return si_of(plant::expected_loop_rise(sun(in), by(in))); }},
        {"d.rise_day_k",
         "K",
         "expected warming on a clear day",
         "0.45 × sun of the day × area / heat capacity",
         "tank-warm-up",
         "heat balance of a day; 0.45 common practice, no source",
         {"wx.day_mj", "sys.coll_m2", "sys.tank_l"},
         [](In& in) {
             return si_of(plant::day_rise(units::Irradiation::from_si(in.si("wx.day_mj")),
                                          units::Area::from_si(in.si("sys.coll_m2")),
                                          units::Volume::from_si(in.si("sys.tank_l")), by(in)));
         }},
        {"d.rise_hour_k",
         "K",
         "expected warming in an hour",
         "0.5 × sun × area × 1 h / heat capacity",
         "tank-warm-up",
         "heat balance of an hour; 0.5 common practice, no source",
         {"wx.irradiance", "sys.coll_m2", "sys.tank_l"},
         [](In& in) {
             return si_of(plant::hour_rise(sun(in), units::Area::from_si(in.si("sys.coll_m2")),
                                           units::Volume::from_si(in.si("sys.tank_l")), by(in)));
         }},
        {"d.night_drop_k",
         "K",
         "expected cooling in the night",
         "(store at dusk − air) × (1 − exp(−loss × time / heat capacity))",
         "store-standing-loss",
         "EN 12897:2016, lumped capacity",
         {"wx.dusk_c", "wx.night_air_c", "sys.ua_wk", "wx.night_h", "sys.tank_l"},
         night},
        {"d.outlet_max_c",
         "°C",
         "hottest water allowed at a washing tap",
         "45 °C for a vulnerable household, else 50 °C",
         "scald-time",
         "Moritz and Henriques 1947 (secondary source); limits common practice, local codes win",
         {"customer.vulnerable"},
         outlet},
    };
}

}  // namespace wm::checklist
