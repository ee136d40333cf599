// How hot the set gets, what that asks of vessel and relief, and electricity.

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "checklist/conventions.hpp"
#include "checklist/derived_equations.hpp"
#include "plant/derived.hpp"
#include "plant/electric.hpp"
#include "plant/expansion.hpp"
#include "plant/heat_limits.hpp"

namespace wm::checklist {
namespace {

using In = Ingredients;
using Si = Result<double>;

std::optional<units::Temperature> temperature_if_known(In& in, std::string_view key) {
    const auto kelvin = in.si_if_known(key);
    return kelvin ? std::optional{units::Temperature::kelvin(*kelvin)} : std::nullopt;
}

plant::CollectorSheet sheet_of(In& in) {
    const auto loss = in.si_if_known("sys.coll_a1");
    const auto quadratic = in.si_if_known("sys.coll_a2");
    plant::CollectorSheet sheet;
    sheet.stagnation = temperature_if_known(in, "sys.stag_c");
    sheet.optical = in.si_if_known("sys.coll_eta0");
    if (loss) sheet.loss = plant::LossCoefficient::from_si(*loss);
    if (quadratic) sheet.quadratic_loss = plant::QuadraticLossCoefficient::from_si(*quadratic);
    return sheet;
}

// A collector that is said to stay below 95 °C in the store holds the store there.
constexpr double said_to_stay_below_c = 95.0;

Result<units::Temperature> store_of(In& in) {
    const auto collector = plant::hottest_collector(sheet_of(in), by(in));
    if (!collector) return tl::unexpected(collector.error());
    plant::StoreLimits limits{*collector, temperature_if_known(in, "sys.store_max_c"),
                              std::nullopt, std::nullopt};
    if (limits.maker) return plant::hottest_store(limits);
    if (in.word("sys.feed") == "vented") {
        const auto boiling =
            plant::boiling_point_at(units::Length::from_si(in.si("site.altitude_m")));
        if (!boiling) return tl::unexpected(boiling.error());
        limits.boiling = *boiling;
    } else if (in.word_if_known("sys.over_95") == "no") {
        limits.relief = units::Temperature::celsius(said_to_stay_below_c);
    } else {
        limits.relief = units::Temperature::kelvin(in.si("sys.relief_c"));
    }
    return plant::hottest_store(limits);
}

Result<units::Volume> expansion_of(In& in) {
    const auto store = units::Volume::from_si(in.si("sys.tank_l"));
    const auto heater = units::Volume::from_si(in.si("heater.volume_l"));
    const auto hottest = store_of(in);
    if (!hottest) return tl::unexpected(hottest.error());
    return plant::heating_expansion(store, heater, *hottest);
}

Si vessel(In& in) {
    const auto expansion = expansion_of(in);
    const auto relief = gauge(in.si("sys.relief_kpa"));
    const auto lowest = std::min(relief, gauge(heater_relief(in)).value_or(relief));
    const auto supply = gauge(in.si("sys.limit_set_kpa"));
    if (!expansion) return tl::unexpected(expansion.error());
    const auto needed =
        plant::cold_vessel({*expansion, supply, by(in).vessel_end_share * lowest});
    if (!needed) return tl::unexpected(needed.error());
    return needed->least_volume.si();
}

Si heat_in(In& in) {
    return si_of(plant::heat_that_can_come_in({units::Area::from_si(in.si("sys.coll_m2")),
                                               in.si_if_known("sys.coll_eta0"),
                                               units::Power::from_si(in.si("heater.power_w"))},
                                              by(in)));
}

Si element(In& in) {
    return si_of(plant::element_resistance(units::Voltage::from_si(in.si("heater.voltage_v")),
                                           units::Power::from_si(in.si("heater.power_w"))));
}

plant::BreakerCurve curve_named(const std::string& word) {
    if (word == "B") return plant::BreakerCurve::B;
    return word == "C" ? plant::BreakerCurve::C : plant::BreakerCurve::D;
}

Si loop_most(In& in) {
    if (in.word("elec.system") == "TT")
        return si_of(plant::electrode_limit(units::Current::from_si(in.si("elec.rcd_ma"))));
    const auto curve = in.word("elec.curve");
    const auto voltage = units::Voltage::from_si(in.si("heater.voltage_v"));
    const auto rating = units::Current::from_si(in.si("elec.breaker_a"));
    const auto loop = plant::earth_loop(voltage, curve_named(curve), rating,
                                        units::Resistance::from_si(1.0));
    if (!loop) return tl::unexpected(loop.error());
    return loop->cold_limit.si();
}

}  // namespace

std::vector<DerivedSpec> derived_of_heat() {
    return {
        {"d.stag_c",
         "°C",
         "highest temperature of the collector without flow",
         "the label's; else air + root of the collector curve in full sun",
         "stagnation",
         "ISO 9806:2017",
         {},
         [](In& in) { return si_of(plant::hottest_collector(sheet_of(in), by(in))); }},
        {"d.store_max_c",
         "°C",
         "highest temperature the store can reach",
         "the maker's; else the lowest of collector without flow, heat setting of the relief and, "
         "vented, the boiling point of the place",
         "water-saturation",
         "the sheets of collector, relief and store; boiling point as above",
         {"sys.feed", "sys.relief_c"},
         [](In& in) { return si_of(store_of(in)); }},
        {"d.expand_l",
         "L",
         "water pushed out on heating",
         "store and heater × (density at 15 °C / density at the highest store temperature − 1)",
         "expansion-volume",
         "conservation of mass; density IAPWS R7-97",
         {"sys.tank_l", "heater.volume_l", "sys.relief_c"},
         [](In& in) { return si_of(expansion_of(in)); }},
        {"d.vessel_l",
         "L",
         "expansion vessel needed",
         "water pushed out / (precharge over supply − precharge over 0.9 × lowest relief), absolute",
         "cold-expansion-vessel",
         "Boyle's law; EN 12828:2012, Annex D (from memory)",
         {"sys.tank_l", "heater.volume_l", "sys.relief_c", "sys.limit_set_kpa", "sys.relief_kpa",
          "heater.relief_kpa"},
         vessel},
        {"d.heat_in_kw",
         "kW",
         "heat that can come into the store",
         "0.8 × 1200 W/m² × collector area + heating element",
         "collector-efficiency",
         "ISO 9806:2013 at 1200 W/m²",
         {"sys.coll_m2", "heater.power_w"},
         heat_in},
        {"d.element_ohm",
         "Ω",
         "resistance of the element",
         "voltage² / power",
         "element",
         "Ohm's law",
         {"heater.voltage_v", "heater.power_w"},
         element},
        {"d.loop_max_ohm",
         "Ω",
         "highest impedance of the earth fault loop",
         "2/3 × voltage / (5, 10 or 20 × breaker rating); TT: 50 V / rated residual current",
         "earth-loop",
         "IEC 60364-4-41:2005, 411.4.4; two thirds IEC 60364-6 (from memory); TT 411.5.3",
         {"elec.system", "elec.curve", "elec.breaker_a", "heater.voltage_v"},
         loop_most},
    };
}

}  // namespace wm::checklist
