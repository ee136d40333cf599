#include "plant/electric.hpp"

#include <array>
#include <cmath>

#include "plant/inputs.hpp"

namespace wm::plant {

using units::ohms;
using units::seconds;
using units::volts;

namespace {

struct Section {
    double mm2, rigid, flexible;  // Ω/km at 20 °C
};

// IEC 60228:2004 Tables 1 to 3.
constexpr std::array sections = {Section{1.5, 12.1, 13.3}, Section{2.5, 7.41, 7.98},
                                 Section{4, 4.61, 4.95},   Section{6, 3.08, 3.30},
                                 Section{10, 1.83, 1.91},  Section{16, 1.15, 1.21}};

Inputs plate_inputs(const ElementPlate& plate) {
    Inputs inputs{"heating element"};
    inputs.positive("power on the plate", plate.power.si(), "W")
        .positive("voltage on the plate", plate.voltage.si(), "V");
    return inputs;
}

struct TripRow {
    double multiple, most_ms, selective_least_ms, selective_most_ms;
};

// IEC 61008-1:2010 Table 1.
constexpr std::array trips = {TripRow{1, 300, 130, 500}, TripRow{2, 150, 60, 200},
                              TripRow{5, 40, 50, 150}};

double curve_multiple(BreakerCurve curve) {
    switch (curve) {
        case BreakerCurve::B:
            return 5.0;
        case BreakerCurve::C:
            return 10.0;
        case BreakerCurve::D:
            return 20.0;
    }
    return 20.0;
}

}  // namespace

Result<Element> element_at(const ElementPlate& plate, units::Voltage measured) {
    auto inputs = plate_inputs(plate);
    inputs.positive("measured voltage", measured.si(), "V");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto resistance = plate.voltage * plate.voltage / plate.power;
    const auto power = measured * measured / resistance;
    return Element{.resistance = resistance, .power = power, .current = power / measured};
}

Result<ElementFinding> element_from_resistance(const ElementPlate& plate,
                                               units::Resistance measured) {
    auto inputs = plate_inputs(plate);
    inputs.positive("measured resistance", measured.si(), "Ω");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto power = plate.voltage * plate.voltage / measured;
    const double share = units::ratio(power, plate.power);
    return ElementFinding{.power = power, .is_within = share >= 0.90 && share <= 1.05};
}

Result<LinearResistance> conductor_resistance(units::Area section, ConductorClass of,
                                              units::Temperature conductor) {
    constexpr double per_kelvin = 0.00393;
    const double mm2 = section.si() * 1e6;
    const Section* found = nullptr;
    for (const auto& row : sections)
        if (std::abs(row.mm2 - mm2) < 1e-6) found = &row;
    Inputs inputs{"conductor resistance"};
    inputs.positive("section", mm2, "mm²")
        .holds(found != nullptr, "There is no conductor of this section in the table.",
               "Give 1.5, 2.5, 4, 6, 10 or 16 mm².")
        .within("conductor temperature", conductor.in_celsius(), -50.0, 250.0, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double at_20 = of == ConductorClass::Flexible ? found->flexible : found->rigid;
    const double over_20 = conductor.in_kelvin() - units::Temperature::celsius(20.0).in_kelvin();
    return LinearResistance::from_si(at_20 * 1e-3 * (1.0 + per_kelvin * over_20));
}

Result<VoltageDrop> voltage_drop(const Supply& supply) {
    Inputs inputs{"voltage drop"};
    inputs.positive("resistance", supply.resistance.si() * 1e3, "Ω/km")
        .not_negative("length one way", supply.one_way.si(), "m")
        .not_negative("current", supply.current.si(), "A")
        .positive("nominal voltage", supply.nominal.si(), "V");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double drop = 2.0 * supply.current.si() * supply.one_way.si() * supply.resistance.si();
    return VoltageDrop{.drop = volts(drop), .percent = 100.0 * drop / supply.nominal.si()};
}

Result<InsulationTest> insulation_test(units::Voltage nominal, Circuit circuit) {
    Inputs inputs{"insulation resistance"};
    inputs.positive("nominal voltage", nominal.si(), "V")
        .within("nominal voltage", nominal.si(), 0.0, 1000.0, "V");
    if (inputs.complaint()) return refused(*inputs.complaint());
    if (circuit == Circuit::ExtraLow) return InsulationTest{volts(250.0), ohms(0.5e6)};
    return InsulationTest{volts(nominal.si() <= 500.0 ? 500.0 : 1000.0), ohms(1e6)};
}

Result<TripLimits> trip_limits(BreakerType type, double multiple) {
    for (const auto& row : trips) {
        if (std::abs(multiple - row.multiple) > 1e-9) continue;
        if (type == BreakerType::General)
            return TripLimits{seconds(0.0), seconds(row.most_ms * 1e-3)};
        return TripLimits{seconds(row.selective_least_ms * 1e-3),
                          seconds(row.selective_most_ms * 1e-3)};
    }
    return refused({"There is no limit for this multiple of the rated residual current.",
                    "trip time", "Give 1, 2 or 5.", ProblemKind::Unreadable});
}

Result<bool> is_trip_accepted(BreakerType type, double multiple,
                              std::optional<units::Time> measured) {
    Inputs inputs{"trip time"};
    if (measured) inputs.not_negative("measured time", measured->si() * 1e3, "ms");
    if (inputs.complaint()) return refused(*inputs.complaint());
    if (std::abs(multiple - 0.5) < 1e-9) return !measured.has_value();
    return trip_limits(type, multiple).map([&](const TripLimits& limits) {
        return measured && *measured >= limits.least && *measured <= limits.most;
    });
}

Result<EarthLoop> earth_loop(units::Voltage to_earth, BreakerCurve curve, units::Current rating,
                             units::Resistance measured) {
    Inputs inputs{"earth fault loop"};
    inputs.positive("voltage to earth", to_earth.si(), "V")
        .positive("rating of the breaker", rating.si(), "A")
        .positive("measured impedance", measured.si(), "Ω");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto tripping = rating * curve_multiple(curve);
    const auto most = to_earth / tripping;
    const auto cold = most * 2.0 / 3.0;
    return EarthLoop{.tripping = tripping,
                     .most = most,
                     .cold_limit = cold,
                     .fault = to_earth / measured,
                     .is_met = measured <= cold};
}

Result<units::Resistance> electrode_limit(units::Current rated_residual) {
    Inputs inputs{"earth electrode"};
    inputs.positive("rated residual current", rated_residual.si() * 1e3, "mA");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return volts(50.0) / rated_residual;
}

}  // namespace wm::plant
