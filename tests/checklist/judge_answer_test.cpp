#include "checklist/judge_answer.hpp"

#include <doctest/doctest.h>

namespace wm::checklist {
namespace {

const Facts no_facts;
const Library no_library;

Judged softened(const std::string& concession, Severity severity, OutsideCounts outside) {
    const Context context{no_facts, no_library, "2027-03-04", {}, {}, {}, {}};
    Check check;
    check.severity = severity;
    check.outside = outside;
    auto expression = Expression::parse(concession);
    REQUIRE(expression);
    check.concession_when = *expression;
    auto judged = judged_as(Outcome::DoesNotConform, "Too much.");
    soften(check, judged, {context, {}, nullptr});
    return judged;
}

}  // namespace

TEST_CASE("a concession is possible inside its band, never where someone can be hurt") {
    CHECK(softened("yes", Severity::LosesPerformance, OutsideCounts::DoesNotConform).band ==
          Band::ConcessionPossible);
    CHECK(softened("no", Severity::LosesPerformance, OutsideCounts::DoesNotConform).band ==
          Band::Blocking);
    CHECK(softened("yes", Severity::Hurts, OutsideCounts::DoesNotConform).band == Band::Blocking);
}

TEST_CASE("a checklist may call a reading outside inconclusive") {
    CHECK(softened("yes", Severity::LosesPerformance, OutsideCounts::Inconclusive).outcome ==
          Outcome::Inconclusive);
}

}  // namespace wm::checklist
