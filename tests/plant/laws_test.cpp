// Laws that hold whatever the figures: ways there and back, what physics lets only grow, limits.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <functional>

#include "plant/testing.hpp"
#include "workout_mutants.hpp"

namespace wm::plant {
namespace {

using wm::testing::Texts;

/// One output of a computation asked as a person would; fails the test where there is none.
double figure(const std::string& name, const Texts& given, const std::string& symbol) {
    const auto* computation = units::computation_named(plant_computations(), name);
    REQUIRE(computation);
    const auto answer = units::work_out(*computation, given);
    REQUIRE_MESSAGE(answer, (answer ? std::string{} : told(answer.error())));
    for (const auto& output : *answer)
        if (output.symbol == symbol) return std::get<double>(output.value);
    FAIL("no such output: " << name << " " << symbol);
    return 0.0;
}

std::string with_unit(double value, const std::string& unit) {
    return fmt::format("{:.17g} {}", value, unit);
}

enum class Sense { Grows, Falls };

/// The output grows (or falls) with every step of one input.
void check_monotone(const std::string& name, const Texts& given, const std::string& input,
                    const std::vector<std::string>& steps, const std::string& symbol, Sense sense) {
    CAPTURE(name);
    CAPTURE(input);
    double last = 0.0;
    for (std::size_t i = 0; i < steps.size(); ++i) {
        CAPTURE(steps[i]);
        auto texts = given;
        texts.emplace_back(input, steps[i]);
        const double now = figure(name, texts, symbol);
        if (i > 0) CHECK((sense == Sense::Grows ? now > last : now < last));
        last = now;
    }
}

}  // namespace

TEST_CASE("a gas warmed and cooled again shows the pressure it started with") {
    wm::testing::Dice dice{11};
    for (int i = 0; i < 200; ++i) {
        const double start = 50.0 + 500.0 * dice.share(), cold = 5.0 + 20.0 * dice.share();
        const double hot = cold + 25.0 * dice.share();
        const auto one_way = [&](double p, double t1, double t2) {
            return figure("air-test-temperature",
                          {{"p1", with_unit(p, "kPa(g)")},
                           {"t1", with_unit(t1, "°C")},
                           {"t2", with_unit(t2, "°C")},
                           {"pa1", "95 kPa"},
                           {"pa2", "95 kPa"}},
                          "p2");
        };
        CHECK(one_way(one_way(start, cold, hot), hot, cold) ==
              doctest::Approx(start).epsilon(1e-12));
    }
}

TEST_CASE("a shut pipe warmed and cooled again shows the pressure it started with") {
    const Texts pipe{{"Do", "22 mm"}, {"s", "0.9 mm"}};
    for (const double start : {4e5, 7e5, 1.2e6}) {
        const auto after = [&](double p, const char* t, const char* t2) {
            auto texts = pipe;
            texts.insert(texts.end(), {{"t", t}, {"t2", t2}, {"p", with_unit(p, "Pa(abs)")}});
            return figure("locked-pipe-pressure", texts, "p2");
        };
        // Steps of 1 K there and back do not meet exactly.
        CHECK(after(after(start, "20 °C", "26 °C"), "26 °C", "20 °C") ==
              doctest::Approx(start).epsilon(0.01));
    }
}

TEST_CASE("hot and cold mixed by the share worked out have the temperature asked for") {
    wm::testing::Dice dice{12};
    for (int i = 0; i < 200; ++i) {
        const double cold = 5.0 + 15.0 * dice.share(), hot = 55.0 + 35.0 * dice.share();
        const double mixed = cold + (hot - cold) * dice.share();
        const double share = figure("mixing",
                                    {{"tm", with_unit(mixed, "°C")},
                                     {"th", with_unit(hot, "°C")},
                                     {"tc", with_unit(cold, "°C")}},
                                    "x");
        CHECK(share * hot + (1.0 - share) * cold == doctest::Approx(mixed).epsilon(1e-12));
    }
}

TEST_CASE("at its stagnation temperature a collector gains nothing") {
    const Texts curve{{"eta0", "0.78"}, {"a1", "3.8"}, {"a2", "0.012"}, {"G", "950"}, {"ta", "30"}};
    auto hottest = curve;
    hottest.emplace_back("tm", with_unit(figure("stagnation", curve, "t_stg"), "°C"));
    CHECK(std::abs(figure("collector-efficiency", hottest, "eta")) < 1e-12);
}

TEST_CASE("water at its boiling pressure is liquid, and steam just below it is refused") {
    const auto* water = units::computation_named(plant_computations(), "water-properties");
    for (const char* t : {"60 °C", "100 °C", "140 °C"}) {
        const double boiling = figure("water-saturation", {{"t", t}}, "psat");
        CHECK(units::work_out(*water, {{"t", t}, {"p", with_unit(boiling * 1.0001, "Pa")}}));
        CHECK(!units::work_out(*water, {{"t", t}, {"p", with_unit(boiling * 0.99, "Pa")}}));
    }
}

TEST_CASE("what physics lets only grow or only fall does so") {
    const std::vector<std::string> warm{"10 °C", "25 °C", "40 °C", "60 °C", "80 °C", "99 °C"};
    check_monotone("water-properties", {{"p", "0.3 MPa"}}, "t", warm, "rho", Sense::Falls);
    check_monotone("water-saturation", {}, "t", warm, "psat", Sense::Grows);
    check_monotone("water-viscosity", {}, "t", warm, "mu", Sense::Falls);
    check_monotone("expansion-volume", {{"V", "150 L"}, {"t1", "8 °C"}}, "t2", warm, "dV",
                   Sense::Grows);
    check_monotone("cold-expansion-vessel", {{"Ve", "3 L"}, {"pset", "3 bar"}}, "pe",
                   {"4 bar", "5 bar", "6 bar"}, "Vn", Sense::Falls);
    check_monotone("glycol-freezing", {}, "phi", {"0 %", "12 %", "20 %", "33 %", "50 %"}, "t_f",
                   Sense::Falls);
    check_monotone("gas-stored-energy", {{"V", "10 L"}}, "pg", {"1 kPa", "100 kPa", "6 bar"},
                   "E_is", Sense::Grows);
    check_monotone("thermosiphon-head", {{"t_c", "20 °C"}, {"H", "1 m"}}, "t_h",
                   {"21 °C", "30 °C", "60 °C"}, "dp", Sense::Grows);
    const Texts loop{
        {"t_c", "25 °C"}, {"t_h", "35 °C"}, {"D_i", "20 mm"}, {"L", "6 m"}, {"k_col", "200"}};
    check_monotone("thermosiphon-flow", loop, "H", {"0.2 m", "0.5 m", "1 m", "2 m"}, "m",
                   Sense::Grows);
    const Texts pipe{{"t", "40 °C"}, {"D_i", "20 mm"}, {"L", "6 m"}};
    check_monotone("pipe-friction", pipe, "m",
                   {"0.001 kg/s", "0.02 kg/s", "0.03 kg/s", "0.05 kg/s", "0.2 kg/s"}, "dp",
                   Sense::Grows);
    const Texts lagged{{"Do", "22 mm"}, {"k", "0.038"}, {"tf", "60 °C"}, {"ta", "20 °C"}};
    check_monotone("pipe-heat-loss", lagged, "s", {"0 mm", "5 mm", "13 mm", "40 mm"}, "q",
                   Sense::Falls);
    check_monotone("wind-pressure", {{"z", "10 m"}, {"terrain", "II"}}, "vb", {"10", "24", "40"},
                   "qp", Sense::Grows);
    check_monotone("bolt-torque", {{"d", "8"}, {"P", "1.25"}, {"Rp", "450"}}, "muG",
                   {"0.08", "0.14", "0.2"}, "F_M", Sense::Falls);
    check_monotone("legionella-time", {}, "T", {"46 °C", "50 °C", "57 °C", "65 °C"}, "D",
                   Sense::Falls);
    check_monotone("scald-time", {}, "T", {"46 °C", "50 °C", "57 °C", "60 °C"}, "t2", Sense::Falls);
    check_monotone("burn-integral", {}, "T", {"44 °C", "50 °C", "55 °C"}, "t1", Sense::Falls);
    check_monotone("clear-sky-simple", {}, "Z", {"0°", "30°", "60°", "85°"}, "G", Sense::Falls);
    check_monotone("voltage-drop", {{"cls", "2"}, {"L", "20"}, {"I", "10"}, {"Un", "230"}}, "S",
                   {"1.5", "2.5", "6", "16"}, "dU", Sense::Falls);
}

TEST_CASE("without insulation the jacket is as hot as the fluid") {
    CHECK(figure("pipe-heat-loss",
                 {{"Do", "22 mm"}, {"s", "0"}, {"k", "0.04"}, {"tf", "61 °C"}, {"ta", "19 °C"}},
                 "ts") == doctest::Approx(61.0).epsilon(1e-12));
}

TEST_CASE("without a difference of temperature nothing drives, grows or is lost") {
    CHECK(figure("expansion-volume", {{"V", "150 L"}, {"t1", "20"}, {"t2", "20"}}, "dV") == 0.0);
    CHECK(figure("pipe-heat-loss",
                 {{"Do", "22 mm"}, {"s", "13 mm"}, {"k", "0.04"}, {"tf", "20"}, {"ta", "20"}},
                 "q") == 0.0);
    CHECK(std::abs(figure("air-test-temperature",
                          {{"p1", "100"}, {"t1", "20"}, {"t2", "20"}, {"pa1", "95"}, {"pa2", "95"}},
                          "p2") -
                   100.0) < 1e-9);
    const auto* flow = units::computation_named(plant_computations(), "thermosiphon-flow");
    CHECK(!units::work_out(
        *flow, {{"t_c", "30"}, {"t_h", "30"}, {"H", "1"}, {"D_i", "0.02"}, {"L", "6"}}));
}

TEST_CASE("a store cools towards the air and never below it") {
    const Texts store{{"Q", "1.9"}, {"C", "640000"}, {"T0", "60 °C"}, {"ta", "12 °C"}};
    check_monotone("store-standing-loss", store, "t", {"0 s", "1 h", "12 h", "100 h"}, "T",
                   Sense::Falls);
    auto long_after = store;
    long_after.emplace_back("t", "1e9 s");
    CHECK(figure("store-standing-loss", long_after, "T") == doctest::Approx(12.0).epsilon(1e-9));
}

TEST_CASE("a flat collector sees the sun at its zenith angle, whatever it faces") {
    for (const char* facing : {"0°", "90°", "217°"})
        CHECK(figure("sun-incidence",
                     {{"Z", "37°"}, {"A_s", "150°"}, {"tilt", "0°"}, {"A_c", facing}},
                     "theta") == doctest::Approx(37.0).epsilon(1e-12));
}

}  // namespace wm::plant
