#include "plant/air_test.hpp"
#include "plant/leak_rate.hpp"
#include "plant/locked_pipe.hpp"
#include "plant/stored_energy.hpp"
#include "plant/workout_tables.hpp"

namespace wm::plant::tables {

using units::AbsolutePressure;
using units::GaugePressure;
using units::is_given;
using units::number_of;

namespace {

Outputs evaluate_locked_pipe(const Arguments& a) {
    const TubeMaterial copper;
    const ShutPipe pipe{.water = celsius(a, "t"),
                        .pressure = AbsolutePressure::pascals(number_of(a, "p")),
                        .tube = {si<units::Length>(a, "Do"), si<units::Length>(a, "s")},
                        .gas_fraction = number_or(a, "phi", 0.0),
                        .material = {.linear_expansion = si_or(a, "alpha", copper.linear_expansion),
                                     .elasticity = units::pascals(
                                         number_or(a, "E", copper.elasticity.si() / 1e9) * 1e9),
                                     .poisson = number_or(a, "nu", copper.poisson)}};
    const auto compliance = tube_compliance(pipe.tube, pipe.material);
    if (!compliance) return tl::unexpected(compliance.error());
    const auto slope = pressure_per_kelvin(pipe);
    if (!slope) return tl::unexpected(slope.error());
    std::vector<Output> all{{"c", "1/Pa", compliance->si()}, {"dpdT", "Pa/K", slope->si()}};
    if (is_given(a, "t2")) {
        const auto then = pressure_after(pipe, celsius(a, "t2"));
        if (!then) return tl::unexpected(then.error());
        all.push_back({"p2", "Pa(abs)", then->in_pascals()});
    }
    return all;
}

Outputs evaluate_air_test(const Arguments& a) {
    const SealedGas gas{.start = GaugePressure::kilopascals(number_of(a, "p1")),
                        .at_start = celsius(a, "t1"),
                        .at_end = celsius(a, "t2"),
                        .air_at_start = AbsolutePressure::kilopascals(number_of(a, "pa1")),
                        .air_at_end = AbsolutePressure::kilopascals(number_of(a, "pa2"))};
    const auto expected = expected_gas_pressure(gas);
    if (!expected) return tl::unexpected(expected.error());
    std::vector<Output> all{{"p2", "kPa(g)", expected->in_kilopascals()}};
    if (is_given(a, "p2_read")) {
        const auto loss =
            unexplained_loss(gas, GaugePressure::kilopascals(number_of(a, "p2_read")));
        if (!loss) return tl::unexpected(loss.error());
        all.push_back({"dp_leak", "kPa", loss->si() / 1e3});
    }
    return all;
}

Outputs evaluate_gas_energy(const Arguments& a) {
    return gas_energy(si<units::Volume>(a, "V"), GaugePressure::pascals(number_of(a, "pg")),
                      AbsolutePressure::pascals(number_or(a, "pa", 101325.0)))
        .map([](const GasEnergy& e) {
            return std::vector<Output>{{"E_is", "J", e.isentropic.si()},
                                       {"E_brode", "J", e.upper.si()},
                                       {"m_tnt", "kg", e.tnt.si()}};
        });
}

Outputs evaluate_water_energy(const Arguments& a) {
    return water_energy({.volume = si<units::Volume>(a, "V"),
                         .pressure = GaugePressure::pascals(number_of(a, "pg")),
                         .water = si<units::Compressibility>(a, "kappa"),
                         .tube = si<units::Compressibility>(a, "c")})
        .map([](units::Energy e) {
            return std::vector<Output>{{"E", "J", e.si()}};
        });
}

Outputs evaluate_leak_rate(const Arguments& a) {
    const Drop drop{si<units::Volume>(a, "V"), si<PressureRate>(a, "dpdt")};
    const auto gas = gas_leak(drop);
    if (!gas) return tl::unexpected(gas.error());
    std::vector<Output> all;
    if (is_given(a, "K")) {
        const auto liquid = liquid_leak(drop, si<units::Compressibility>(a, "K"));
        if (!liquid) return tl::unexpected(liquid.error());
        all.push_back({"q_V", "m³/s", liquid->si()});
    }
    all.push_back({"q_pV", "Pa m³/s", gas->throughput.si()});
    all.push_back({"q_n", "m³/s", gas->normal_flow.si()});
    return all;
}

}  // namespace

std::vector<units::Computation> pressure_computations() {
    return {
        {.name = "locked-pipe-pressure",
         .title = "Pressure rise of a shut pipe per kelvin",
         .on_site = "Tells a leak from the sun on the pipe, and why no pipe may be shut in full.",
         .equation = "Expansion of water and gas less that of the tube, over the compressibility "
                     "of water, gas and tube.",
         .source = "IAPWS R7-97; theory of thin pressure vessels, Wylie & Streeter (from memory)",
         .range = "Liquid water; gas fraction 0 to below 1.",
         .inputs = {needs("t", "°C", "the water temperature"),
                    needs("p", "Pa(abs)", "the pressure against vacuum"),
                    needs("Do", "m", "the outside diameter"),
                    needs("s", "m", "the wall of the tube"),
                    may("phi", "", "the fraction of trapped gas; 0 if left out", "0 to below 1"),
                    may("alpha", "1/K", "the linear expansion of the tube; copper if left out"),
                    may("E", "GPa", "the elasticity of the tube; copper if left out"),
                    may("nu", "", "Poisson's ratio of the tube; copper if left out"),
                    may("t2", "°C", "a later water temperature, for p2")},
         .outputs = {needs("c", "1/Pa", "compliance of the tube"),
                     needs("dpdT", "Pa/K", "pressure rise per kelvin"),
                     needs("p2", "Pa(abs)", "pressure at t2")},
         .evaluate = evaluate_locked_pipe},
        {.name = "air-test-temperature",
         .title = "Gauge pressure of sealed air after a change of weather",
         .on_site = "Takes the weather off the end reading, so that only a leak is left.",
         .equation =
             "Pressure against vacuum scales with kelvin; the barometer of the end comes off.",
         .source = "Ideal gas law",
         .range = "Dry gas, 0 °C to 60 °C, to 1 MPa against vacuum.",
         .inputs = {needs("p1", "kPa(g)", "the gauge pressure at the start"),
                    needs("t1", "°C", "the gas temperature at the start"),
                    needs("t2", "°C", "the gas temperature at the end"),
                    needs("pa1", "kPa(abs)", "the barometer at the start"),
                    needs("pa2", "kPa(abs)", "the barometer at the end"),
                    may("p2_read", "kPa(g)", "the gauge pressure read at the end, for dp_leak")},
         .outputs = {needs("p2", "kPa(g)", "gauge pressure to expect at the end"),
                     needs("dp_leak", "kPa", "loss that the weather does not explain")},
         .evaluate = evaluate_air_test},
        {.name = "gas-stored-energy",
         .title = "Energy stored in compressed gas",
         .on_site = "Why an air test needs an exclusion zone.",
         .equation = "Isentropic expansion to the air, and as an upper form pressure times volume "
                     "over 0.4.",
         .source = "Ideal gas; ASME PCC-2 Article 501 (from memory); Brode 1959 (from memory)",
         .range = "Gauge pressure to 10 MPa.",
         .inputs = {needs("V", "m³", "the volume"), needs("pg", "Pa(g)", "the gauge pressure"),
                    may("pa", "Pa(abs)", "the air pressure; 101 325 Pa if left out")},
         .outputs = {needs("E_is", "J", "isentropic energy"), needs("E_brode", "J", "upper form"),
                     needs("m_tnt", "kg", "TNT of the isentropic energy at 4.6 MJ/kg")},
         .evaluate = evaluate_gas_energy},
        {.name = "water-stored-energy",
         .title = "Energy stored in a water test",
         .on_site = "Shows that a water test holds thousands of times less energy.",
         .equation =
             "Half the volume times the square of the pressure times both compressibilities.",
         .source = "Linear elasticity",
         .range = "Full of water, to 2 MPa.",
         .inputs = {needs("V", "m³", "the volume"), needs("pg", "Pa(g)", "the gauge pressure"),
                    needs("kappa", "1/Pa", "the compressibility of water"),
                    needs("c", "1/Pa", "the compliance of the tube")},
         .outputs = {needs("E", "J", "energy")},
         .evaluate = evaluate_water_energy},
        {.name = "leak-rate",
         .title = "Leak rate from the slope of a pressure",
         .on_site = "Turns kPa per minute into something that can be compared.",
         .equation = "Volume times drop, for a liquid times the sum of the compressibilities.",
         .source =
             "Definition of compressibility; throughput after EN 1779 and ISO 20484 (from memory)",
         .range = "Volume above zero.",
         .inputs = {needs("V", "m³", "the enclosed volume"),
                    needs("dpdt", "Pa/s", "the slope of the pressure"),
                    may("K", "1/Pa", "the sum of the compressibilities, for a liquid")},
         .outputs = {needs("q_V", "m³/s", "leak of liquid"),
                     needs("q_pV", "Pa m³/s", "throughput of gas"),
                     needs("q_n", "m³/s", "gas at 101.325 kPa")},
         .evaluate = evaluate_leak_rate},
    };
}

}  // namespace wm::plant::tables
