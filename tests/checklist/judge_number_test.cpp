#include "checklist/judge_number.hpp"

#include <doctest/doctest.h>

#include <string>

namespace wm::checklist {
namespace {

const Facts no_facts;
const Library no_library;

Judged judged(const std::string& tolerance, double mm, const std::string& uncertainty,
              measure::Importance importance) {
    const Context context{no_facts, no_library, "2027-03-04", {}, {}, {}, {}};
    const auto e = Expression::parse(tolerance);
    REQUIRE(e);
    NumberCase of;
    of.tolerance = &*e;
    of.unit = *units::unit_named("mm");
    of.importance = importance;
    of.doubt = {std::nullopt, of.unit, ReadAs::Absolute};
    InstrumentInUse used;
    used.card.id = "T-1";
    used.uncertainty_as_judged = uncertainty;
    const auto reading = units::Amount::of(mm, of.unit);
    return judge_number(of, reading, reading, {context, {}, nullptr}, used);
}

}  // namespace

TEST_CASE("simple and guarded acceptance differ inside the strip and agree outside the limits") {
    // Source: the decision rule of the trade content, JCGM 106:2012 clause 8.
    using measure::Importance;
    CHECK(judged("reading between 10 mm and 20 mm", 10.5, "1 mm", Importance::Ordinary).outcome ==
          Outcome::Conforms);
    CHECK(judged("reading between 10 mm and 20 mm", 10.5, "1 mm", Importance::HoldPoint).outcome ==
          Outcome::Inconclusive);
    CHECK(judged("reading between 10 mm and 20 mm", 9.9, "1 mm", Importance::Ordinary).outcome ==
          Outcome::DoesNotConform);
    CHECK(judged("reading between 10 mm and 20 mm", 9.9, "1 mm", Importance::HoldPoint).outcome ==
          Outcome::DoesNotConform);
    CHECK(judged("reading between 10 mm and 20 mm", 15, "3 mm", Importance::Ordinary).outcome ==
          Outcome::Inconclusive);
}

TEST_CASE("more than and less than do not allow the limit itself") {
    CHECK(judged("reading more than 5 mm", 5, "0 mm", measure::Importance::Ordinary).outcome ==
          Outcome::DoesNotConform);
    CHECK(judged("reading at least 5 mm", 5, "0 mm", measure::Importance::Ordinary).outcome ==
          Outcome::Conforms);
}

TEST_CASE("the sentence speaks in the unit that was entered, with that of the check in brackets") {
    // Source: 1 psi = 6.894757 kPa, 1 bar = 100 kPa (NIST SP 811:2008, B.8): 60 psi = 413.685 kPa, 432 kPa = 62.656 psi.
    const auto said_of = [](double value, const char* entered_in, const char* uncertainty) {
        const Context context{no_facts, no_library, "2027-03-04", {}, {}, {}, {}};
        const auto e = Expression::parse("reading between 432 kPa and 480 kPa");
        REQUIRE(e);
        NumberCase of;
        of.tolerance = &*e;
        of.unit = *units::unit_named("kPa");
        of.decimals = 0;
        of.importance = measure::Importance::HoldPoint;
        of.doubt = {std::nullopt, of.unit, ReadAs::Absolute};
        say_in(of, units::unit_named(entered_in));
        InstrumentInUse used;
        used.card.id = "PG-1";
        used.uncertainty_as_judged = uncertainty;
        const auto reading = units::Amount::of(value, *units::unit_named(entered_in));
        const auto one = judge_number(of, reading, reading, {context, {}, nullptr}, used);
        // What is drawn and kept stays in the unit of the check.
        CHECK(one.limits.unit->symbol == "kPa");
        CHECK(one.limits.text == "432 to 480 kPa");
        return one.why;
    };
    CHECK(said_of(60.0, "psi", "0 kPa").starts_with("60 psi (413.7 kPa) is below the lowest allowed, 62.66 psi (432 kPa)."));
    CHECK(said_of(4.9, "bar", "0 kPa").starts_with("4.9 bar (490 kPa) is above the highest allowed, 4.8 bar (480 kPa)."));
    CHECK(said_of(4.55, "bar", "16 kPa").starts_with("4.55 bar (455 kPa) keeps to what is allowed, 4.32 to 4.8 bar (432 to 480 kPa), even if the "
                                                     "reading is off by its uncertainty of 0.16 bar."));
    CHECK(said_of(490.0, "kPa", "0 kPa").starts_with("490 kPa is above the highest allowed, 480 kPa."));
    // Another thing is no other unit for the same.
    NumberCase of;
    of.unit = *units::unit_named("kPa");
    say_in(of, units::unit_named("mm"));
    CHECK_FALSE(of.said_in);
}

TEST_CASE("the worse of two judgements keeps what is missing for the other") {
    Judged open;
    leave_open(open, {{"sys.tank_l"}, {"sun-window"}, ""});
    Judged bad;
    bad.outcome = Outcome::DoesNotConform;
    bad.why = "bad";
    const auto both = worse_of(open, bad);
    CHECK(both.outcome == Outcome::DoesNotConform);
    CHECK(both.why == "bad");
    CHECK(both.missing_facts == std::vector<std::string>{"sys.tank_l"});
    CHECK(both.waits_for == std::vector<std::string>{"sun-window"});
}

}  // namespace wm::checklist
