// Leak evidence.
#include "measure/leak.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

using namespace wm::measure;

namespace {

const std::vector<double> minutes{0, 5, 10, 15, 20, 25, 30};
const std::vector<double> level(7, 600.0);
const std::vector<double> dropping{600, 599.4, 599.1, 598.3, 598, 597.2, 596.9};

LeakEvidence evidence(const std::vector<double>& pressures, double resolution) {
    const auto found = leak_evidence(
        {.times = minutes, .pressures = pressures, .resolution = resolution, .confidence = 0.95});
    REQUIRE(found);
    return *found;
}

}  // namespace

TEST_CASE("equal readings of a coarse gauge prove no less than its step allows") {
    // scipy 1.10.1, linregress and t quantiles.
    const LeakEvidence found = evidence(level, 1.0);
    CHECK(std::abs(found.fit.slope) < 1e-7);
    CHECK(found.slope_uncertainty == doctest::Approx(0.010910895).epsilon(1e-5));
    CHECK(found.slope.low == doctest::Approx(-0.028047347).epsilon(1e-5));
    CHECK(found.slope.high == doctest::Approx(0.028047347).epsilon(1e-5));
    CHECK(found.detection_limit == doctest::Approx(0.02198598).epsilon(1e-5));
    CHECK(found.highest_drop == doctest::Approx(0.02198598).epsilon(1e-5));
    CHECK(found.is_level());
}

TEST_CASE("a drop beyond the scatter is found with its interval") {
    // scipy 1.10.1, linregress and t quantiles.
    const LeakEvidence found = evidence(dropping, 0.1);
    CHECK(found.fit.slope == doctest::Approx(-0.1057142857).epsilon(1e-9));
    CHECK(found.slope_uncertainty == doctest::Approx(0.0049487166).epsilon(1e-5));
    CHECK(found.slope.low == doctest::Approx(-0.11843537).epsilon(1e-5));
    CHECK(found.slope.high == doctest::Approx(-0.092993205).epsilon(1e-5));
    CHECK(found.detection_limit == doctest::Approx(0.0099719033).epsilon(1e-5));
    CHECK(found.highest_drop == doctest::Approx(0.11568619).epsilon(1e-5));
    CHECK_FALSE(found.is_level());
}

TEST_CASE("the verdict passes, finds a leak, or wants a better test") {
    const LeakEvidence drop = evidence(dropping, 0.1);
    CHECK(*leak_verdict(drop, 0.12) == LeakVerdict::Pass);
    CHECK(*leak_verdict(drop, 0.11) == LeakVerdict::Inconclusive);
    CHECK(*leak_verdict(drop, 0.0929) == LeakVerdict::Leak);
    CHECK(*leak_verdict(evidence(level, 1.0), 0.0) == LeakVerdict::Inconclusive);
    CHECK(*leak_verdict(evidence(level, 1.0), 0.022) == LeakVerdict::Pass);
    CHECK_FALSE(leak_verdict(drop, -0.1));
}

TEST_CASE("a finer gauge never proves less") {
    double last = 0.0;
    for (double resolution = 0.01; resolution < 20.0; resolution *= 2.0) {
        const LeakEvidence found = evidence(dropping, resolution);
        CHECK(found.highest_drop >= last);
        last = found.highest_drop;
    }
}

TEST_CASE("a leak verdict can only take conformity from a holding test") {
    CHECK(outcome_of_hold(Outcome::Conforms, LeakVerdict::Pass) == Outcome::Conforms);
    CHECK(outcome_of_hold(Outcome::Conforms, LeakVerdict::Inconclusive) == Outcome::Inconclusive);
    CHECK(outcome_of_hold(Outcome::Conforms, LeakVerdict::Leak) == Outcome::Inconclusive);
    for (const Outcome outcome : {Outcome::DoesNotConform, Outcome::Inconclusive, Outcome::Open,
                                  Outcome::Deferred, Outcome::NotApplicable}) {
        for (const LeakVerdict verdict :
             {LeakVerdict::Pass, LeakVerdict::Leak, LeakVerdict::Inconclusive}) {
            CHECK(outcome_of_hold(outcome, verdict) == outcome);
        }
    }
}

TEST_CASE("the shortest test agrees with computed values") {
    // scipy 1.10.1, t quantiles.
    CHECK(*shortest_hold({1.0, 0.0, 0.05, 7, 0.95}) == doctest::Approx(13.19158814).epsilon(1e-6));
    CHECK(*shortest_hold({0.1, 0.15, 0.02, 11, 0.95}) ==
          doctest::Approx(13.10853452).epsilon(1e-6));
}

TEST_CASE("a test of exactly the shortest time just proves the allowed rate") {
    const double time = *shortest_hold({1.0, 0.0, 0.05, 7, 0.95});
    std::vector<double> steps;
    for (int i = 0; i < 7; ++i) steps.push_back(time * i / 6.0);
    const auto found = leak_evidence({steps, level, 1.0, 0.95});
    REQUIRE(found);
    CHECK(found->highest_drop == doctest::Approx(0.05).epsilon(1e-10));
}

TEST_CASE("tests that cannot be judged are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(leak_evidence({minutes, level, 0.0, 0.95}));
    CHECK_FALSE(leak_evidence({minutes, level, nan, 0.95}));
    CHECK_FALSE(leak_evidence({minutes, level, 1.0, 0.4}));
    CHECK_FALSE(leak_evidence({minutes, dropping, 1.0, 1.0}));
    CHECK_FALSE(leak_evidence({{}, {}, 1.0, 0.95}));
    CHECK_FALSE(shortest_hold({1.0, 0.0, 0.0, 7, 0.95}));
    CHECK_FALSE(shortest_hold({1.0, 0.0, 0.05, 2, 0.95}));
    CHECK_FALSE(shortest_hold({0.0, 0.0, 0.05, 7, 0.95}));
    CHECK_FALSE(shortest_hold({1.0, 0.0, 0.05, 7, 0.3}));
}
