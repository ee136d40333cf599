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
