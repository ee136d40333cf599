// The derived values, each bound to its equation.
#include "checklist/derived_names.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "checklist/conventions.hpp"
#include "plant/derived.hpp"

namespace wm::checklist {
namespace {

using plant::Conventions;
using In = Ingredients;
using Si = Result<double>;

Conventions by(In& in) {
    return conventions_of(in.library());
}

template <class T>
Si si_of(const Result<T>& result) {
    if (!result) return tl::unexpected(result.error());
    return result->si();
}
Si si_of(const Result<units::Angle>& angle) {
    if (!angle) return tl::unexpected(angle.error());
    return angle->in_radians();
}
Si si_of(const Result<units::Temperature>& temperature) {
    if (!temperature) return tl::unexpected(temperature.error());
    return temperature->in_kelvin();
}
Si si_of(const Result<units::GaugePressure>& pressure) {
    if (!pressure) return tl::unexpected(pressure.error());
    return pressure->in_pascals();
}

units::GaugePressure gauge(double pascals) {
    return units::GaugePressure::pascals(pascals);
}
std::optional<units::GaugePressure> gauge(std::optional<double> pascals) {
    return pascals ? std::optional{gauge(*pascals)} : std::nullopt;
}

bool is_direct(In& in) {
    return in.word("sys.kind") == "direct";
}

// A direct set has no jacket.
double jacket(In& in) {
    return is_direct(in) ? 0.0 : in.si("sys.jacket_l");
}

plant::SetParts set_parts(In& in) {
    const auto frame = in.si_if_known("sys.frame_kg");
    return {units::Mass::from_si(in.si("sys.tank_dry_kg")),
            units::Volume::from_si(in.si("sys.tank_l")),
            units::Volume::from_si(jacket(in)),
            units::Mass::from_si(in.si("sys.coll_kg")),
            units::Volume::from_si(in.si("sys.coll_l")),
            frame ? std::optional{units::Mass::from_si(*frame)} : std::nullopt};
}

Si load(In& in) {
    return si_of(plant::set_mass(set_parts(in), by(in)));
}

Si point(In& in) {
    const auto mass = plant::set_mass(set_parts(in), by(in));
    plant::BearingLoad bearing{
        units::Mass::from_si(0.0), units::PressureDifference::from_si(in.si("site.snow_kpa")),
        units::Area::from_si(in.si("sys.coll_m2")), in.count("sys.anchor_n")};
    if (!mass) return tl::unexpected(mass.error());
    bearing.set = *mass;
    return si_of(plant::point_load(bearing, by(in)));
}

Result<units::Force> uplift_of(In& in) {
    const auto area = units::Area::from_si(in.si("sys.coll_m2"));
    const auto wind = plant::wind_pressure(units::Speed::from_si(in.si("site.wind_ms")), by(in));
    if (!wind) return tl::unexpected(wind.error());
    return plant::uplift(*wind, area, by(in));
}

Result<int> fixings(In& in) {
    const auto uplift = uplift_of(in);
    const auto resistance = units::Force::from_si(in.si("sys.fix_kn"));
    if (!uplift) return tl::unexpected(uplift.error());
    return plant::fixings_needed({*uplift, resistance}, by(in));
}

Si pull(In& in) {
    const auto uplift = uplift_of(in);
    const auto needed = fixings(in);
    if (!uplift) return tl::unexpected(uplift.error());
    if (!needed) return tl::unexpected(needed.error());
    return si_of(plant::proof_pull(*uplift, *needed, by(in)));
}

Si ballast(In& in) {
    const auto uplift = uplift_of(in);
    auto parts = set_parts(in);
    parts.tank = parts.jacket = parts.collector_content = units::Volume::from_si(0.0);
    const auto empty = plant::set_mass(parts, by(in));
    const auto tilt = units::Angle::radians(in.si("sys.tilt_target"));
    if (!uplift) return tl::unexpected(uplift.error());
    if (!empty) return tl::unexpected(empty.error());
    return si_of(plant::ballast_needed({*uplift, *empty, tilt}, by(in)));
}

Result<units::Volume> loop_of(In& in) {
    const auto run = units::Length::from_si(in.si("sys.run_hot_m") + in.si("sys.run_cold_m"));
    return plant::loop_volume({units::Volume::from_si(in.si("sys.coll_l")),
                               units::Volume::from_si(jacket(in)), run,
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

// A heater without pressure, or in a zone of its own, neither helps nor limits.
bool heater_in_zone(In& in) {
    const auto most = in.si_if_known("heater.max_kpa");
    if (most && *most == 0.0) return false;
    return in.word_if_known("heater.same_zone") != "no";
}

std::optional<double> heater_relief(In& in) {
    if (!heater_in_zone(in) || in.word_if_known("heater.relief") == "none") return std::nullopt;
    return in.si("heater.relief_kpa");
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

Si element(In& in) {
    return si_of(plant::element_resistance(units::Voltage::from_si(in.si("heater.voltage_v")),
                                           units::Power::from_si(in.si("heater.power_w"))));
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

std::vector<DerivedSpec> place_and_roof() {
    return {
        {"d.p_atm_kpa",
         "kPa(abs)",
         "air pressure of the place",
         "101.325·(1 − 2.25577e−5·altitude)^5.25588",
         {"site.altitude_m"},
         [](In& in) -> Si {
             const auto p =
                 plant::station_pressure(units::Length::from_si(in.si("site.altitude_m")));
             if (!p) return tl::unexpected(p.error());
             return p->in_pascals();
         }},
        {"d.t_boil_c",
         "°C",
         "boiling point of the place",
         "100 °C − altitude/300",
         {"site.altitude_m"},
         [](In& in) {
             return si_of(
                 plant::boiling_point_at(units::Length::from_si(in.si("site.altitude_m"))));
         }},
        {"d.az_equator",
         "°",
         "bearing toward the equator",
         "180° north of the equator, 0° south of it",
         {"site.latitude"},
         [](In& in) {
             return si_of(plant::bearing_to_equator(units::Angle::radians(in.si("site.latitude"))));
         }},
        {"d.tilt_best",
         "°",
         "best tilt",
         "latitude + 5°, kept between 20° and 50°",
         {"site.latitude"},
         [](In& in) {
             return si_of(plant::best_tilt(units::Angle::radians(in.si("site.latitude")), by(in)));
         }},
        {"d.load_kg",
         "kg",
         "weight of the full set",
         "store + its water + jacket + collector + its water + frame",
         {"sys.tank_dry_kg", "sys.tank_l", "sys.jacket_l", "sys.coll_kg", "sys.coll_l"},
         load},
        {"d.point_kn",
         "kN",
         "load at each bearing point",
         "(weight·9.81 + snow·area) / points × 1.5",
         {"sys.tank_dry_kg", "sys.tank_l", "sys.jacket_l", "sys.coll_kg", "sys.coll_l",
          "site.snow_kpa", "sys.coll_m2", "sys.anchor_n"},
         point},
        {"d.q_kpa",
         "kPa",
         "wind pressure",
         "0.5 × air density × gust²",
         {"site.wind_ms"},
         [](In& in) {
             return si_of(
                 plant::wind_pressure(units::Speed::from_si(in.si("site.wind_ms")), by(in)));
         }},
        {"d.uplift_kn",
         "kN",
         "wind uplift",
         "1.3 × wind pressure × collector area",
         {"site.wind_ms", "sys.coll_m2"},
         [](In& in) { return si_of(uplift_of(in)); }},
        {"d.fix_n",
         "pieces",
         "number of fixings needed",
         "1.5 × uplift / resistance of one fixing, rounded up, at least 4",
         {"site.wind_ms", "sys.coll_m2", "sys.fix_kn"},
         [](In& in) -> Si {
             const auto n = fixings(in);
             if (!n) return tl::unexpected(n.error());
             return static_cast<double>(*n);
         }},
        {"d.pull_kn",
         "kN",
         "proof load of a drilled anchor",
         "1.25 × uplift / fixings",
         {"site.wind_ms", "sys.coll_m2", "sys.fix_kn"},
         pull},
        {"d.ballast_kg",
         "kg",
         "ballast needed",
         "the larger of what holds against lifting and against sliding",
         {"site.wind_ms", "sys.coll_m2", "sys.tank_dry_kg", "sys.coll_kg", "sys.tilt_target"},
         ballast},
    };
}

std::vector<DerivedSpec> water_and_heat() {
    return {
        {"d.loop_l",
         "L",
         "content of the loop",
         "collector + jacket + pipe run × content per metre",
         {"sys.coll_l", "sys.jacket_l", "sys.run_hot_m", "sys.run_cold_m", "sys.pipe_od_mm"},
         [](In& in) { return si_of(loop_of(in)); }},
        {"d.fpt_need_c",
         "°C",
         "freezing point needed",
         "lowest air temperature − 5 K",
         {"site.t_min_c"},
         [](In& in) {
             return si_of(plant::freezing_point_needed(
                 units::Temperature::kelvin(in.si("site.t_min_c")), by(in)));
         }},
        {"d.glycol_pct",
         "%",
         "strength of the antifreeze",
         "weakest step that freezes 2 K below what is needed",
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
         {"sys.fluid", "sys.coll_l", "sys.jacket_l", "sys.run_hot_m", "sys.run_cold_m",
          "sys.pipe_od_mm", "site.t_min_c"},
         glycol_litres},
        {"d.p_test_kpa",
         "kPa",
         "test pressure at the gauge",
         "0.8 × relief setting + 9.81 kPa per metre up to the relief, never above what the vessels "
         "take",
         {"sys.relief_kpa", "pos.gauge_to_relief_m", "sys.tank_max_kpa", "heater.relief_kpa"},
         test_pressure},
        {"d.p_limit_hi",
         "kPa",
         "highest supply pressure",
         "0.8 × the lowest relief setting of the zone",
         {"sys.relief_kpa", "heater.relief_kpa"},
         limit_high},
        {"d.expand_l",
         "L",
         "water pushed out on heating",
         "2.49 % of store and heater",
         {"sys.tank_l", "heater.volume_l"},
         [](In& in) {
             return si_of(
                 plant::heating_expansion(units::Volume::from_si(in.si("sys.tank_l")),
                                          units::Volume::from_si(in.si("heater.volume_l"))));
         }},
        {"d.disch_len_m",
         "m",
         "counted length of the discharge pipe",
         "run + elbows × their length",
         {"sys.run_disch_m", "sys.disch_elbows", "sys.pipe_od_mm"},
         discharge},
        {"d.dt_loop_exp",
         "K",
         "expected rise across the loop",
         "10 K × √(sun / 800 W/m²)",
         {"wx.irradiance"},
         [](In& in) { return si_of(plant::expected_loop_rise(sun(in), by(in))); }},
        {"d.rise_day_k",
         "K",
         "expected warming on a clear day",
         "0.45 × sun of the day × area / heat capacity",
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
         {"wx.irradiance", "sys.coll_m2", "sys.tank_l"},
         [](In& in) {
             return si_of(plant::hour_rise(sun(in), units::Area::from_si(in.si("sys.coll_m2")),
                                           units::Volume::from_si(in.si("sys.tank_l")), by(in)));
         }},
        {"d.night_drop_k",
         "K",
         "expected cooling in the night",
         "(store at dusk − air) × (1 − exp(−loss × time / heat capacity))",
         {"wx.dusk_c", "wx.night_air_c", "sys.ua_wk", "wx.night_h", "sys.tank_l"},
         night},
        {"d.element_ohm",
         "Ω",
         "resistance of the element",
         "voltage² / power",
         {"heater.voltage_v", "heater.power_w"},
         element},
        {"d.outlet_max_c",
         "°C",
         "hottest water allowed at a washing tap",
         "45 °C for a vulnerable household, else 50 °C",
         {"customer.vulnerable"},
         outlet},
    };
}

}  // namespace

void Ingredients::note(std::string_view key) {
    if (std::find(missing_.begin(), missing_.end(), key) == missing_.end())
        missing_.emplace_back(key);
}

double Ingredients::si(std::string_view key) {
    const auto amount = facts_.number(key);
    if (!amount) note(key);
    return amount ? amount->si : 0.0;
}

int Ingredients::count(std::string_view key) {
    return static_cast<int>(std::lround(si(key)));
}

std::string Ingredients::word(std::string_view key) {
    auto word = facts_.word(key);
    if (!word) note(key);
    return word.value_or("");
}

std::string Ingredients::word_if_known(std::string_view key) const {
    return facts_.word(key).value_or("");
}

bool Ingredients::yes(std::string_view key) {
    const auto yes = facts_.yes(key);
    if (!yes) note(key);
    return yes.value_or(false);
}

std::optional<double> Ingredients::si_if_known(std::string_view key) const {
    const auto amount = facts_.number(key);
    return amount ? std::optional{amount->si} : std::nullopt;
}

double Ingredients::of_check_or_fact(const CheckId& check, std::string_view key) {
    const auto value = value_of_ ? value_of_(check) : std::nullopt;
    return value ? value->si : si(key);
}

const std::vector<DerivedSpec>& derived_table() {
    static const std::vector<DerivedSpec> table = [] {
        auto all = place_and_roof();
        for (auto& spec : water_and_heat()) all.push_back(std::move(spec));
        return all;
    }();
    return table;
}

const DerivedSpec* derived_named(std::string_view name) {
    const auto& table = derived_table();
    const auto found = std::find_if(table.begin(), table.end(),
                                    [&](const DerivedSpec& spec) { return spec.name == name; });
    return found == table.end() ? nullptr : &*found;
}

}  // namespace wm::checklist
