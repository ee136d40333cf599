#include "plant/electric.hpp"
#include "plant/workout_tables.hpp"

namespace wm::plant::tables {

using units::is_given;
using units::number_of;
using units::Shape;
using units::text_of;

namespace {

tl::unexpected<Problem> unknown_word(const std::string& text, std::string where,
                                     std::string what_to_do) {
    return refused({"\"" + text + "\" is not known here.", "work-out " + std::move(where),
                    std::move(what_to_do), ProblemKind::Unreadable});
}

Outputs evaluate_element(const Arguments& a) {
    const ElementPlate plate{si<units::Power>(a, "Pn"), si<units::Voltage>(a, "Un")};
    const auto element = element_at(plate, si_or(a, "U", plate.voltage));
    if (!element) return tl::unexpected(element.error());
    std::vector<Output> all{{"R", "Ω", element->resistance.si()},
                            {"P", "W", element->power.si()},
                            {"I", "A", element->current.si()}};
    if (is_given(a, "Rm")) {
        const auto finding = element_from_resistance(plate, si<units::Resistance>(a, "Rm"));
        if (!finding) return tl::unexpected(finding.error());
        all.push_back({"P_m", "W", finding->power.si()});
        all.push_back({"ok", "", finding->is_within});
    }
    return all;
}

Result<ConductorClass> conductor_class(double number) {
    if (number == 1.0) return ConductorClass::Solid;
    if (number == 2.0) return ConductorClass::Stranded;
    if (number == 5.0) return ConductorClass::Flexible;
    return refused({"There is no such class of conductor here.", "work-out voltage-drop, cls",
                    "Give 1 (solid), 2 (stranded) or 5 (flexible).", ProblemKind::Unreadable});
}

Outputs evaluate_drop(const Arguments& a) {
    const auto of = conductor_class(number_of(a, "cls"));
    if (!of) return tl::unexpected(of.error());
    const auto section = units::square_metres(number_of(a, "S") * 1e-6);
    const auto resistance =
        conductor_resistance(section, *of, units::Temperature::celsius(number_or(a, "t", 20.0)));
    if (!resistance) return tl::unexpected(resistance.error());
    std::vector<Output> all{{"R", "Ω/km", resistance->si() * 1e3}};
    const bool any = is_given(a, "L") || is_given(a, "I") || is_given(a, "Un");
    if (!any) return all;
    if (!(is_given(a, "L") && is_given(a, "I") && is_given(a, "Un")))
        return no_complete_form("voltage-drop",
                                "L, I and Un together for the drop, or none of them");
    const auto drop = voltage_drop({*resistance, si<units::Length>(a, "L"),
                                    si<units::Current>(a, "I"), si<units::Voltage>(a, "Un")});
    if (!drop) return tl::unexpected(drop.error());
    all.push_back({"dU", "V", drop->drop.si()});
    all.push_back({"pct", "%", drop->percent});
    return all;
}

Outputs evaluate_insulation(const Arguments& a) {
    const auto measured = number_of(a, "R");
    if (measured < 0.0)
        return refused({"A resistance cannot be below zero.", "work-out insulation-resistance, R",
                        "Check the reading.", ProblemKind::Unreadable});
    const bool extra_low = is_given(a, "selv") && units::flag_of(a, "selv");
    return insulation_test(si<units::Voltage>(a, "Un"),
                           extra_low ? Circuit::ExtraLow : Circuit::Mains)
        .map([&](const InsulationTest& test) {
            const double limit = test.least.si() / 1e6;
            return std::vector<Output>{{"test_V", "V", test.test.si()},
                                       {"limit", "MΩ", limit},
                                       {"ok", "", measured >= limit}};
        });
}

Outputs evaluate_trip(const Arguments& a) {
    const auto& text = text_of(a, "type");
    if (text != "general" && text != "S")
        return unknown_word(text, "rcd-trip, type", "Write general or S.");
    const auto type = text == "S" ? BreakerType::Selective : BreakerType::General;
    const double multiple = number_of(a, "mult");
    std::optional<units::Time> measured;
    if (is_given(a, "t")) measured = units::seconds(number_of(a, "t") * 1e-3);
    const auto accepted = is_trip_accepted(type, multiple, measured);
    if (!accepted) return tl::unexpected(accepted.error());
    std::vector<Output> all;
    if (const auto limits = trip_limits(type, multiple)) {
        all.push_back({"min", "ms", limits->least.si() * 1e3});
        all.push_back({"max", "ms", limits->most.si() * 1e3});
    }
    all.push_back({"ok", "", *accepted});
    return all;
}

Outputs evaluate_earth(const Arguments& a) {
    const auto& text = text_of(a, "curve");
    if (text != "B" && text != "C" && text != "D")
        return unknown_word(text, "earth-loop, curve", "Write B, C or D.");
    const auto curve = text == "B"   ? BreakerCurve::B
                       : text == "C" ? BreakerCurve::C
                                     : BreakerCurve::D;
    return earth_loop(si<units::Voltage>(a, "U0"), curve, si<units::Current>(a, "In"),
                      si<units::Resistance>(a, "Zm"))
        .map([](const EarthLoop& loop) {
            return std::vector<Output>{{"I_a", "A", loop.tripping.si()},
                                       {"Z_max", "Ω", loop.most.si()},
                                       {"limit", "Ω", loop.cold_limit.si()},
                                       {"I_f", "A", loop.fault.si()},
                                       {"ok", "", loop.is_met}};
        });
}

units::Symbol passes() {
    return shaped(Shape::Flag, needs("ok", "", "whether it passes"));
}

}  // namespace

std::vector<units::Computation> electric_computations() {
    return {
        {.name = "element",
         .title = "Resistance and power of a heating element",
         .on_site =
             "Is the element whole and right for the supply. Isolate and take both ends off.",
         .equation = "Voltage squared over power of the plate; power at another voltage from that "
                     "resistance.",
         .source = "Ohm's law; tolerance IEC 60335-1 clause 10.1 (from memory)",
         .range = "Above zero.",
         .inputs = {needs("Pn", "W", "the power on the plate"),
                    needs("Un", "V", "the voltage on the plate"),
                    may("U", "V", "the measured voltage; that of the plate if left out"),
                    may("Rm", "Ω", "the measured resistance, for P_m and ok")},
         .outputs = {needs("R", "Ω", "resistance by the plate"),
                     needs("P", "W", "power at the measured voltage"), needs("I", "A", "current"),
                     needs("P_m", "W", "power by the measured resistance"), passes()},
         .evaluate = evaluate_element},
        {.name = "voltage-drop",
         .title = "Resistance of a cable and its voltage drop",
         .on_site = "A long supply to a heater: is the cable enough. 5 % is the usual limit.",
         .equation = "Table value at 20 °C, 0.393 % per kelvin; twice length times current times "
                     "resistance.",
         .source = "IEC 60228:2004 Tables 1 to 3; IEC 60364-5-52:2009 Table G.52.1 (from memory)",
         .range = "Copper of 1.5, 2.5, 4, 6, 10 or 16 mm².",
         .inputs = {needs("S", "mm²", "the section"),
                    needs("cls", "", "the class of conductor: 1, 2 or 5"),
                    may("L", "m", "the length one way"), may("I", "A", "the current"),
                    may("t", "°C", "the conductor temperature; 20 if left out"),
                    may("Un", "V", "the nominal voltage")},
         .outputs = {needs("R", "Ω/km", "resistance"), needs("dU", "V", "voltage drop"),
                     needs("pct", "%", "voltage drop in percent")},
         .evaluate = evaluate_drop},
        {.name = "insulation-resistance",
         .title = "Insulation resistance",
         .on_site = "Safe to energise. Disconnect electronics first; a damp element reads low "
                    "until dried.",
         .equation = "Test voltage and least resistance by nominal voltage.",
         .source = "IEC 60364-6:2016 Table 6.1 (from memory)",
         .range = "To 1000 V.",
         .inputs = {needs("Un", "V", "the nominal voltage"),
                    shaped(Shape::Flag,
                           may("selv", "", "true for safety extra-low voltage; false if left out")),
                    needs("R", "MΩ", "the measured resistance")},
         .outputs = {needs("test_V", "V", "test voltage, d.c."),
                     needs("limit", "MΩ", "least resistance"), passes()},
         .evaluate = evaluate_insulation},
        {.name = "rcd-trip",
         .title = "Trip time of a residual-current device",
         .on_site = "Does it cut off in time. Test both half-waves and keep the longer.",
         .equation = "Least and greatest time by type and multiple of the rated current.",
         .source = "IEC 61008-1:2010 Table 1 (60 ms from memory)",
         .range = "0.5, 1, 2 or 5 times; at 0.5 it must not trip: leave t out.",
         .inputs = {shaped(Shape::Text, needs("type", "", "general or S")),
                    needs("mult", "", "the multiple of the rated residual current"),
                    may("t", "ms", "the measured time; left out when it did not trip")},
         .outputs = {needs("min", "ms", "least time"), needs("max", "ms", "greatest time"),
                     passes()},
         .evaluate = evaluate_trip},
        {.name = "earth-loop",
         .title = "Impedance of the earth fault loop",
         .on_site =
             "Will the breaker trip on a fault. The test may trip the residual-current device.",
         .equation =
             "Voltage to earth over the tripping current; two thirds of it for a cold reading.",
         .source =
             "IEC 60364-4-41:2005 411.4.4; IEC 60364-6 (two thirds, from memory); IEC 60898-1",
         .range = "Above zero.",
         .inputs = {needs("U0", "V", "the voltage to earth"),
                    shaped(Shape::Text, needs("curve", "", "the curve of the breaker: B, C or D")),
                    needs("In", "A", "the rating of the breaker"),
                    needs("Zm", "Ω", "the measured impedance")},
         .outputs = {needs("I_a", "A", "tripping current"),
                     needs("Z_max", "Ω", "greatest impedance"),
                     needs("limit", "Ω", "greatest cold reading"),
                     needs("I_f", "A", "prospective fault current"), passes()},
         .evaluate = evaluate_earth},
    };
}

}  // namespace wm::plant::tables
