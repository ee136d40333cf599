// Place, weight, wind and anchoring.

#include <cmath>
#include <optional>
#include <string_view>
#include <vector>

#include "checklist/conventions.hpp"
#include "checklist/derived_equations.hpp"
#include "plant/derived.hpp"

namespace wm::checklist {
namespace {

using In = Ingredients;
using Si = Result<double>;

plant::SetParts set_parts(In& in) {
    const auto frame = in.si_if_known("sys.frame_kg");
    return {units::Mass::from_si(in.si("sys.tank_dry_kg")),
            units::Volume::from_si(in.si("sys.tank_l")),
            units::Volume::from_si(jacket_m3(in)),
            units::Mass::from_si(in.si("sys.coll_kg")),
            units::Volume::from_si(in.si("sys.coll_l")),
            frame ? std::optional{units::Mass::from_si(*frame)} : std::nullopt};
}

Si load(In& in) {
    return si_of(plant::set_mass(set_parts(in), by(in)));
}

Result<units::PressureDifference> wind_of(In& in) {
    return plant::wind_pressure(units::Speed::from_si(in.si("site.wind_ms")), by(in));
}

// Store, its water and the jacket around it stand on the feet of the store.
plant::StoreOnFeet on_feet(In& in) {
    constexpr double kilograms_per_cubic_metre = 1000.0;
    const double content = in.si("sys.tank_l") + jacket_m3(in);
    return {units::Mass::from_si(in.si("sys.tank_dry_kg") + content * kilograms_per_cubic_metre),
            in.count("sys.tank_feet")};
}

enum class Pressing { Snow, SnowAndWind };

Si bearing_load(In& in, Pressing pressing) {
    const auto mass = plant::set_mass(set_parts(in), by(in));
    plant::BearingLoad bearing{
        units::Mass::from_si(0.0), units::PressureDifference::from_si(in.si("site.snow_kpa")),
        units::Area::from_si(in.si("sys.coll_m2")), in.count("sys.anchor_n"), on_feet(in)};
    if (pressing == Pressing::SnowAndWind) {
        const auto wind = wind_of(in);
        if (!wind) return tl::unexpected(wind.error());
        bearing.wind = *wind;
    }
    if (!mass) return tl::unexpected(mass.error());
    bearing.set = *mass;
    return si_of(plant::point_load(bearing, by(in)));
}

Si point(In& in) {
    return bearing_load(in, Pressing::Snow);
}

Si downward(In& in) {
    return bearing_load(in, Pressing::SnowAndWind);
}

Result<units::Force> uplift_of(In& in) {
    const auto area = units::Area::from_si(in.si("sys.coll_m2"));
    const auto wind = wind_of(in);
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

units::Length length(In& in, std::string_view key) {
    return units::Length::from_si(in.si(key));
}

Result<units::Force> drag_of(In& in) {
    const plant::StoreInWind store{length(in, "sys.tank_len_m"), length(in, "sys.tank_across_m"),
                                   length(in, "sys.tank_axis_m"), length(in, "sys.base_m")};
    const auto wind = wind_of(in);
    if (!wind) return tl::unexpected(wind.error());
    return plant::store_drag(store, *wind, by(in));
}

Result<units::Force> tipping_of(In& in) {
    const auto drag = drag_of(in);
    const plant::Tipping store{drag.value_or(units::Force::from_si(0.0)),
                               length(in, "sys.tank_axis_m"), length(in, "sys.base_m"),
                               units::Mass::from_si(in.si("sys.tank_dry_kg")),
                               in.count("sys.tank_feet")};
    if (!drag) return tl::unexpected(drag.error());
    return plant::tipping_pull(store, by(in));
}

Si hardest_pull(In& in) {
    const auto uplift = uplift_of(in);
    const auto tipping = tipping_of(in);
    const int fixings = in.count("sys.anchor_n");
    if (!uplift) return tl::unexpected(uplift.error());
    if (!tipping) return tl::unexpected(tipping.error());
    return si_of(plant::fixing_pull({*uplift, fixings, *tipping}, by(in)));
}

Si ballast(In& in) {
    const auto uplift = uplift_of(in);
    const auto drag = drag_of(in);
    auto parts = set_parts(in);
    parts.tank = parts.jacket = parts.collector_content = units::Volume::from_si(0.0);
    const auto empty = plant::set_mass(parts, by(in));
    const auto tilt = units::Angle::radians(in.si("sys.tilt_target"));
    const auto axis = length(in, "sys.tank_axis_m");
    const auto base = length(in, "sys.base_m");
    if (!uplift) return tl::unexpected(uplift.error());
    if (!drag) return tl::unexpected(drag.error());
    if (!empty) return tl::unexpected(empty.error());
    return si_of(plant::ballast_needed(
        {*uplift, *empty, tilt, plant::BallastTipping{*drag, axis, base}}, by(in)));
}

}  // namespace

std::vector<DerivedSpec> derived_of_place() {
    return {
        {"d.p_atm_kpa",
         "kPa(abs)",
         "air pressure of the place",
         "101.325·(1 − 2.25577e−5·altitude)^5.25588",
         "",
         "ISO 2533:1975, standard atmosphere",
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
         "water-saturation",
         "common practice, no source; within 0.5 K of IAPWS R7-97 up to 3000 m",
         {"site.altitude_m"},
         [](In& in) {
             return si_of(
                 plant::boiling_point_at(units::Length::from_si(in.si("site.altitude_m"))));
         }},
        {"d.az_equator",
         "°",
         "bearing toward the equator",
         "180° north of the equator, 0° south of it",
         "sun-position",
         "geometry of the sun's path",
         {"site.latitude"},
         [](In& in) {
             return si_of(plant::bearing_to_equator(units::Angle::radians(in.si("site.latitude"))));
         }},
        {"d.tilt_best",
         "°",
         "best tilt",
         "latitude + 5°, kept between 20° and 50°",
         "tilted-irradiance",
         "common practice, no source",
         {"site.latitude"},
         [](In& in) {
             return si_of(plant::best_tilt(units::Angle::radians(in.si("site.latitude")), by(in)));
         }},
        {"d.load_kg",
         "kg",
         "weight of the full set",
         "store + its water + jacket + collector + its water + frame",
         "roof-load",
         "weights; water 1000 kg/m³",
         {"sys.tank_dry_kg", "sys.tank_l", "sys.jacket_l", "sys.coll_kg", "sys.coll_l"},
         load},
        {"d.point_kn",
         "kN",
         "load at each bearing point",
         "the larger of (weight·9.81 + snow·area) / points and 1.3 × full store·9.81 / its feet, "
         "× 1.5",
         "roof-load",
         "EN 1990:2002, Table A1.2, factor 1.5 (from memory); unevenness 1.3 common practice, no source",
         {"sys.tank_dry_kg", "sys.tank_l", "sys.jacket_l", "sys.coll_kg", "sys.coll_l",
          "site.snow_kpa", "sys.coll_m2", "sys.anchor_n", "sys.tank_feet"},
         point},
        {"d.down_kn",
         "kN",
         "load at each bearing point with snow and wind",
         "the larger of (weight·9.81 + (snow + 1.3 × wind pressure)·area) / points and 1.3 × full "
         "store·9.81 / its feet, × 1.5",
         "roof-load",
         "EN 1990:2002, Table A1.2, factor 1.5 (from memory); unevenness 1.3 common practice, no source",
         {"sys.tank_dry_kg", "sys.tank_l", "sys.jacket_l", "sys.coll_kg", "sys.coll_l",
          "site.snow_kpa", "site.wind_ms", "sys.coll_m2", "sys.anchor_n", "sys.tank_feet"},
         downward},
        {"d.tip_kn",
         "kN",
         "pull of a tipping store at each windward foot",
         "(1.5 × 1.2 × wind pressure × length × diameter × height of the axis − 0.9 × empty "
         "store·9.81 × base / 2) / base / half of the feet",
         "anchor-count",
         "equilibrium of moments; factors EN 1990:2002, Table A1.2; drag EN 1991-1-4 (both from memory)",
         {"site.wind_ms", "sys.tank_len_m", "sys.tank_across_m", "sys.tank_axis_m", "sys.base_m",
          "sys.tank_dry_kg", "sys.tank_feet"},
         [](In& in) { return si_of(tipping_of(in)); }},
        {"d.hold_kn",
         "kN",
         "pull on the fixing that is pulled hardest",
         "1.5 × wind uplift / fixings + pull of the tipping store",
         "anchor-count",
         "equilibrium of moments; factor 1.5 EN 1990:2002, Table A1.2 (from memory)",
         {"site.wind_ms", "sys.coll_m2", "sys.anchor_n", "sys.tank_len_m", "sys.tank_across_m",
          "sys.tank_axis_m", "sys.base_m", "sys.tank_dry_kg", "sys.tank_feet"},
         hardest_pull},
        {"d.q_kpa",
         "kPa",
         "wind pressure",
         "0.5 × air density × gust²",
         "wind-pressure",
         "EN 1991-1-4:2005, 4.5; air 1.25 kg/m³",
         {"site.wind_ms"},
         [](In& in) { return si_of(wind_of(in)); }},
        {"d.uplift_kn",
         "kN",
         "wind uplift",
         "1.3 × wind pressure × collector area",
         "wind-pressure",
         "EN 1991-1-4:2005, section 7; coefficient 1.3 common practice, no source",
         {"site.wind_ms", "sys.coll_m2"},
         [](In& in) { return si_of(uplift_of(in)); }},
        {"d.fix_n",
         "pieces",
         "number of fixings needed",
         "1.5 × wind uplift / resistance of one fixing, rounded up, at least 4",
         "anchor-count",
         "EN 1990:2002, Table A1.2 (from memory); least number common practice, no source",
         {"site.wind_ms", "sys.coll_m2", "sys.fix_kn"},
         [](In& in) -> Si {
             const auto n = fixings(in);
             if (!n) return tl::unexpected(n.error());
             return static_cast<double>(*n);
         }},
        {"d.pull_kn",
         "kN",
         "proof load of a drilled anchor",
         "1.25 × wind uplift / fixings",
         "anchor-count",
         "proof load 1.25 common practice, no source",
         {"site.wind_ms", "sys.coll_m2", "sys.fix_kn"},
         pull},
        {"d.ballast_kg",
         "kg",
         "ballast needed",
         "the largest of what holds against lifting, sliding and tipping",
         "anchor-count",
         "EN 1990:2002, Table A1.2 (from memory); friction common practice, no source",
         {"site.wind_ms", "sys.coll_m2", "sys.tank_dry_kg", "sys.coll_kg", "sys.tilt_target",
          "sys.tank_len_m", "sys.tank_across_m", "sys.tank_axis_m", "sys.base_m"},
         ballast},
    };
}

}  // namespace wm::checklist
