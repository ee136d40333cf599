#include "checklist/doubt.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "checklist/testing.hpp"

namespace wm::checklist {
namespace {

struct Bench {
    Library library = testing::library_with();
    Facts facts;
    Context context{facts, library, "2027-03-04", {}, {}, {}, {}};

    Doubt weakest(const std::string& type, const std::string& unit, double reading,
                  ReadAs as = ReadAs::Absolute) const {
        const auto its_unit = *units::unit_named(unit);
        return doubt_of({type, its_unit, as}, std::nullopt, units::Amount::of(reading, its_unit),
                        context);
    }
};

}  // namespace

TEST_CASE("the weakest permitted instrument has the uncertainty of its type") {
    // Source: the instrument list of the trade content, U at k = 2.
    const Bench bench;
    struct Row {
        std::string type, unit;
        double reading, u;
    };
    for (const Row& row :
         {Row{"torque wrench", "N·m", 20, 0.8}, Row{"torque wrench", "N·m", 8, 0.48},
          Row{"pressure gauge", "kPa", 480, 16}, Row{"two-channel thermometer", "°C", 60, 1},
          Row{"inclinometer", "°", 35, 0.5}, Row{"tape", "mm", 1000, 1.2},
          Row{"tape", "m", 1, 0.0012}, Row{"continuity tester", "Ω", 0.05, 0.03},
          Row{"insulation tester", "MΩ", 5, 0.5}, Row{"irradiance meter", "W/m²", 800, 80},
          Row{"refractometer", "°C", -18, 2}}) {
        CAPTURE(row.type);
        const auto doubt = bench.weakest(row.type, row.unit, row.reading);
        CHECK(doubt.not_evidence.empty());
        const auto unit = *units::unit_named(row.unit);
        CHECK(doubt.expanded.si / unit.factor == doctest::Approx(row.u));
    }
    CHECK(bench.weakest("two-channel thermometer", "K", 10, ReadAs::Difference).expanded.si ==
          doctest::Approx(0.5));
    // No figure of its own: twice the 1 K of its scale.
    CHECK(bench.weakest("refractometer", "°C", -18, ReadAs::Difference).expanded.si ==
          doctest::Approx(2));
}

TEST_CASE("a plate or a count carries no doubt, an unknown instrument no evidence") {
    const Bench bench;
    const auto unit = *units::unit_named("kPa");
    const auto plate = doubt_of({std::nullopt, unit, ReadAs::Absolute}, std::nullopt,
                                units::Amount::of(600, unit), bench.context);
    CHECK(plate.expanded.si == 0);
    CHECK(plate.not_evidence.empty());
    CHECK(bench.weakest("divining rod", "kPa", 600).not_evidence ==
          "nothing is known of an instrument called divining rod");
}

TEST_CASE("an uncertainty is an amount, a share of the reading, or a formula") {
    const Bench bench;
    const auto nm = *units::unit_named("N·m");
    const auto reading = units::Amount::of(20, nm);
    CHECK(uncertainty_from("0.4 N·m", nm, reading, bench.context)->si == doctest::Approx(0.4));
    CHECK(uncertainty_from("0.4", nm, reading, bench.context)->si == doctest::Approx(0.4));
    CHECK(uncertainty_from("4 %", nm, reading, bench.context)->si == doctest::Approx(0.8));
    CHECK(uncertainty_from("0.1 N·m + 0.02 * reading", nm, reading, bench.context)->si ==
          doctest::Approx(0.5));
    const auto percent = *units::unit_named("%");
    CHECK(uncertainty_from("5 %", percent, units::Amount::of(20, percent), bench.context)->si ==
          doctest::Approx(0.05));
    CHECK_FALSE(uncertainty_from("4 K", nm, reading, bench.context));
    CHECK_FALSE(uncertainty_from("about right", nm, reading, bench.context));
}

TEST_CASE("a permissible error becomes an uncertainty by its rectangle and the step of the scale") {
    // U = 2·√(10²/3 + 2²/12) = 11.60 kPa. Source: JCGM 100:2008, 4.3.7; k = 2.
    const Bench bench;
    const auto kpa = *units::unit_named("kPa");
    InstrumentInUse gauge;
    gauge.card.id = "PG-7";
    gauge.card.type = "pressure gauge";
    gauge.card.resolution = "2 kPa";
    gauge.card.calibration_due = "2027-12-31";
    gauge.card.expanded_uncertainty = "permissible error 10 kPa";
    const auto reading = units::Amount::of(480, kpa);
    const auto by_error = doubt_of({"pressure gauge", kpa, ReadAs::Absolute}, gauge, reading,
                                   bench.context);
    CHECK(by_error.not_evidence.empty());
    CHECK(by_error.expanded.si / 1e3 ==
          doctest::Approx(2.0 * std::sqrt(100.0 / 3.0 + 4.0 / 12.0)).epsilon(1e-9));
    CHECK(by_error.words ==
          "read with PG-7, whose uncertainty of 11.6 kPa is made of its permissible error of 10 "
          "kPa");
    // A calibrated uncertainty of the same figure stays what it is.
    gauge.card.expanded_uncertainty = "10 kPa";
    const auto calibrated = doubt_of({"pressure gauge", kpa, ReadAs::Absolute}, gauge, reading,
                                     bench.context);
    CHECK(calibrated.expanded.si / 1e3 == doctest::Approx(10));
    CHECK(calibrated.words == "read with PG-7");
    // A share of the reading, and the step of the type where the card names none: 2 % of 480.
    gauge.card.expanded_uncertainty = "permissible error 2 %";
    gauge.card.resolution = "";
    CHECK(doubt_of({"pressure gauge", kpa, ReadAs::Absolute}, gauge, reading, bench.context)
              .expanded.si /
              1e3 ==
          doctest::Approx(2.0 * std::sqrt(9.6 * 9.6 / 3.0 + 25.0 / 12.0)).epsilon(1e-9));
    gauge.card.expanded_uncertainty = "permissible error of sorts";
    CHECK(doubt_of({"pressure gauge", kpa, ReadAs::Absolute}, gauge, reading, bench.context)
              .not_evidence == "the uncertainty of PG-7 is not known");
}

TEST_CASE("the tools of hold points that no norm describes have an uncertainty of their own") {
    // Common practice, no source.
    const Bench bench;
    struct Row {
        std::string type, unit;
        double reading, u;
    };
    for (const Row& row :
         {Row{"anemometer", "m/s", 6, 1}, Row{"wind scale", "m/s", 6, 3}, Row{"awl", "mm", 2, 1},
          Row{"crack gauge", "mm", 0.2, 0.1}, Row{"scale", "kg", 600, 12},
          Row{"shade sight", "%", 8, 5}}) {
        CAPTURE(row.type);
        const auto unit = *units::unit_named(row.unit);
        CHECK(bench.weakest(row.type, row.unit, row.reading).expanded.si / unit.factor ==
              doctest::Approx(row.u));
    }
}

}  // namespace wm::checklist
