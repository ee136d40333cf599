#include "checklist/doubt.hpp"

#include <doctest/doctest.h>

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

}  // namespace wm::checklist
