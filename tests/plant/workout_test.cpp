#include "plant/workout.hpp"

#include <doctest/doctest.h>

#include <set>

#include "plant/testing.hpp"
#include "units/unit.hpp"

using namespace wm::units;
using wm::plant::plant_computations;
using Texts = std::vector<std::pair<std::string, std::string>>;

namespace {

wm::Result<std::vector<Output>> answer(const std::string& name, const Texts& texts) {
    const auto* computation = computation_named(plant_computations(), name);
    REQUIRE(computation);
    return work_out(*computation, texts);
}

bool is_known(const std::string& unit) {
    return unit == "K(abs)" || unit_named(unit).has_value();
}

}  // namespace

TEST_CASE(
    "every computation has a name of its own, words for people and symbols with known units") {
    std::set<std::string> names;
    for (const auto& c : plant_computations()) {
        CAPTURE(c.name);
        CHECK(names.insert(c.name).second);
        for (const auto* words : {&c.title, &c.on_site, &c.equation, &c.source, &c.range})
            CHECK(!words->empty());
        CHECK(!c.outputs.empty());
        std::set<std::string> symbols;
        for (const auto& symbol : c.inputs) {
            CAPTURE(symbol.name);
            CHECK(symbols.insert(symbol.name).second);
            CHECK(!symbol.meaning.empty());
            CHECK(is_known(symbol.unit));
        }
        for (const auto& symbol : c.outputs) CHECK(is_known(symbol.unit));
    }
    CHECK(names.size() == 48);
}

TEST_CASE(
    "an input that is left out, unknown, of another dimension or no number is refused by name") {
    for (const auto& c : plant_computations())
        for (const auto& symbol : c.inputs) {
            CAPTURE(c.name);
            CAPTURE(symbol.name);
            const auto unknown = answer(c.name, {{"no_such_symbol", "1"}});
            REQUIRE(!unknown);
            CHECK(unknown.error().kind == wm::ProblemKind::WrongUse);
            if (symbol.shape != Shape::Number) continue;
            for (const char* text : {"nan", "inf", "1e999", "", "abc", "1 mm/m/s"}) {
                CAPTURE(text);
                if (symbol.optional && std::string{text}.empty()) continue;
                const auto read = read_arguments(c, {{symbol.name, text}});
                REQUIRE(!read);
                CHECK(read.error().where == "work-out " + c.name + ", " + symbol.name);
            }
            const auto wrong =
                read_arguments(c, {{symbol.name, symbol.unit == "cm" ? "1 s" : "1 nm"}});
            const bool is_length = unit_named(symbol.unit) &&
                                   unit_named(symbol.unit)->dimension == unit_named("m")->dimension;
            if (!is_length) CHECK(!wrong);
        }
}

TEST_CASE("a computation without any input is refused, not answered") {
    for (const auto& c : plant_computations()) {
        CAPTURE(c.name);
        CHECK(!answer(c.name, {}));
    }
}

TEST_CASE("gauge and absolute pressures are not taken for each other") {
    CHECK(!answer("water-properties", {{"t", "60 °C"}, {"p", "100 kPa(g)"}}));
    CHECK(answer("water-properties", {{"t", "60 °C"}, {"p", "100 kPa"}}));
    CHECK(!answer("gas-stored-energy", {{"V", "10 L"}, {"pg", "600 kPa(abs)"}}));
    CHECK(answer("gas-stored-energy", {{"V", "10 L"}, {"pg", "6 bar"}}));
}

TEST_CASE("other units give the same answer in the unit of the table") {
    const auto one = answer("expansion-volume", {{"V", "150 L"}, {"t1", "15 °C"}, {"t2", "60 °C"}});
    const auto other =
        answer("expansion-volume", {{"V", "0,15 m3"}, {"t1", "288.15 K"}, {"t2", "140 degF"}});
    REQUIRE(one);
    REQUIRE(other);
    CHECK(one->front().unit == "L");
    CHECK(std::get<double>(one->front().value) ==
          doctest::Approx(std::get<double>(other->front().value)).epsilon(1e-9));
}

TEST_CASE("water asked for in kelvin answers in the units of the tables printed so") {
    const auto kelvin = answer("water-saturation", {{"T", "333.15 K"}});
    const auto celsius = answer("water-saturation", {{"t", "60 °C"}});
    REQUIRE(kelvin);
    REQUIRE(celsius);
    CHECK(kelvin->front().unit == "MPa");
    CHECK(celsius->front().unit == "Pa");
    CHECK(std::get<double>(kelvin->front().value) * 1e6 ==
          doctest::Approx(std::get<double>(celsius->front().value)));
    CHECK(!answer("water-saturation", {{"t", "60 °C"}, {"T", "333.15 K"}}));
}

TEST_CASE("there is no time to a scald below 45 °C and only an upper bound above 60 °C") {
    const auto cool = answer("scald-time", {{"T", "44 °C"}});
    REQUIRE(cool);
    CHECK(std::holds_alternative<std::monostate>(cool->front().value));
    const auto hot = answer("scald-time", {{"T", "65 °C"}});
    REQUIRE(hot);
    CHECK(std::get<std::string>(hot->front().value) == "under 3 s");
}

TEST_CASE("inputs that make no whole form, unknown words and broken counts are refused") {
    struct Row {
        const char* name;
        Texts texts;
    };
    const Row refused[] = {
        {"pipe-friction", {{"Re", "1e5"}}},
        {"pipe-friction", {{"m", "0.2"}, {"t", "60"}}},
        {"wind-pressure", {{"z", "10"}}},
        {"wind-pressure", {{"z", "10"}, {"terrain", "V"}}},
        {"tilted-irradiance", {{"tilt", "40"}, {"D_", "100"}, {"model", "anisotropic"}}},
        {"tilted-irradiance", {{"tilt", "40"}, {"D_", "100"}, {"model", "cloudy"}}},
        {"bolt-torque", {{"d", "8"}, {"P", "1.25"}, {"Rp", "450"}, {"muG", "0.1"}, {"D_K", "10"}}},
        {"voltage-drop", {{"S", "2.5"}, {"cls", "2"}, {"L", "25"}}},
        {"voltage-drop", {{"S", "2.5"}, {"cls", "3"}}},
        {"store-standing-loss", {{"Q", "1.9"}, {"C", "640000"}}},
        {"rcd-trip", {{"type", "fast"}, {"mult", "1"}, {"t", "28"}}},
        {"rcd-trip", {{"type", "S"}, {"mult", "3"}, {"t", "28"}}},
        {"earth-loop", {{"U0", "230"}, {"curve", "E"}, {"In", "16"}, {"Zm", "1"}}},
        {"savings",
         {{"f", "[0.5, 0.6]"}, {"L", "[1 GJ]"}, {"tariff", "0.2"}, {"C0", "1"}, {"n", "1"}}},
        {"roof-load",
         {{"m_tank", "45"},
          {"V", "150"},
          {"t_fill", "20"},
          {"m_col", "38"},
          {"A_plan", "3"},
          {"n", "4.5"}}},
        {"mixing", {{"tm", "50"}, {"th", "15"}, {"tc", "15"}}},
        {"collector-efficiency",
         {{"eta0", "0.78"},
          {"a1", "3.8"},
          {"a2", "0.012"},
          {"G", "800"},
          {"tm", "50"},
          {"ta", "20"},
          {"A", "-2"}}}};
    for (const auto& row : refused) {
        CAPTURE(row.name);
        const auto got = answer(row.name, row.texts);
        REQUIRE(!got);
        CHECK(!got.error().what.empty());
        CHECK(!got.error().where.empty());
        CHECK(!got.error().what_to_do.empty());
    }
}
