// The decision rule.
#include "measure/decision.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <limits>
#include <random>

using namespace wm::measure;

namespace {

constexpr auto hold_point = Importance::HoldPoint;
constexpr auto ordinary = Importance::Ordinary;

Tolerance between(double low, double high) {
    return {.low = low, .high = high, .target = {}};
}
Tolerance at_least(double low) {
    return {.low = low, .high = {}, .target = {}};
}
Tolerance at_most(double high) {
    return {.low = {}, .high = high, .target = {}};
}
Tolerance deviation(double high) {
    return {.low = 0.0, .high = high, .target = {}, .on = ToleranceOn::Deviation};
}

Judgement judged(double reading, const Tolerance& tolerance, double u, Importance importance) {
    const auto judgement = judge(reading, tolerance, u, importance);
    REQUIRE(judgement);
    return *judgement;
}

}  // namespace

TEST_CASE("a hold point conforms only a full uncertainty away from each limit") {
    const Tolerance tolerance = between(45.0, 55.0);
    struct Row {
        double reading;
        Outcome outcome;
        Reason reason;
    };
    const Row rows[] = {
        {44.999, Outcome::DoesNotConform, Reason::BelowLow},
        {45.0, Outcome::Inconclusive, Reason::InGuardStrip},
        {45.999, Outcome::Inconclusive, Reason::InGuardStrip},
        {46.0, Outcome::Conforms, Reason::InsideGuarded},
        {54.0, Outcome::Conforms, Reason::InsideGuarded},
        {54.001, Outcome::Inconclusive, Reason::InGuardStrip},
        {55.0, Outcome::Inconclusive, Reason::InGuardStrip},
        {55.001, Outcome::DoesNotConform, Reason::AboveHigh},
    };
    for (const Row& row : rows) {
        CAPTURE(row.reading);
        const Judgement judgement = judged(row.reading, tolerance, 1.0, hold_point);
        CHECK(judgement.outcome == row.outcome);
        CHECK(judgement.reason == row.reason);
        CHECK(judgement.rule == Rule::Guarded);
        CHECK(judgement.accept_low == 46.0);
        CHECK(judgement.accept_high == 54.0);
        CHECK(judgement.uncertainty == 1.0);
    }
}

TEST_CASE("an ordinary check conforms up to and on its limits") {
    const Tolerance tolerance = between(20.0, 22.0);
    CHECK(judged(20.0, tolerance, 0.5, ordinary).outcome == Outcome::Conforms);
    CHECK(judged(22.0, tolerance, 0.5, ordinary).outcome == Outcome::Conforms);
    CHECK(judged(22.0, tolerance, 0.5, ordinary).reason == Reason::InsideSimple);
    CHECK(judged(22.0, tolerance, 0.5, ordinary).rule == Rule::Simple);
    CHECK(judged(22.0, tolerance, 0.5, ordinary).accept_high == 22.0);
    CHECK(judged(19.9, tolerance, 0.5, ordinary).outcome == Outcome::DoesNotConform);
    CHECK(judged(23.9, tolerance, 0.5, ordinary).outcome == Outcome::DoesNotConform);
}

TEST_CASE("an instrument is too coarse beyond a quarter of the width, and only then") {
    const Tolerance tolerance = between(20.0, 22.0);
    CHECK(judged(21.0, tolerance, 0.5, ordinary).outcome == Outcome::Conforms);
    CHECK(judged(21.0, tolerance, 0.501, ordinary).outcome == Outcome::Inconclusive);
    CHECK(judged(21.0, tolerance, 0.501, ordinary).reason == Reason::TooCoarse);
}

TEST_CASE("outside the limits does not conform, however coarse the instrument") {
    CHECK(judged(22.5, between(20.0, 22.0), 5.0, ordinary).outcome == Outcome::DoesNotConform);
    CHECK(judged(22.5, between(20.0, 22.0), 5.0, hold_point).outcome == Outcome::DoesNotConform);
}

TEST_CASE("a single limit measures the instrument by its target, else by itself") {
    Tolerance with_target = at_most(50.0);
    with_target.target = 46.0;
    CHECK(judged(45.0, with_target, 1.0, ordinary).outcome == Outcome::Conforms);
    CHECK(judged(45.0, with_target, 1.01, ordinary).reason == Reason::TooCoarse);

    CHECK(judged(45.0, at_most(50.0), 12.5, ordinary).outcome == Outcome::Conforms);
    CHECK(judged(45.0, at_most(50.0), 12.6, ordinary).reason == Reason::TooCoarse);
    CHECK(judged(-18.0, at_most(-16.0), 4.0, ordinary).outcome == Outcome::Conforms);
    CHECK(judged(-18.0, at_most(-16.0), 4.01, ordinary).reason == Reason::TooCoarse);
    CHECK(judged(3.0, at_least(2.0), 0.5, ordinary).outcome == Outcome::Conforms);
    CHECK(judged(3.0, at_least(2.0), 0.51, ordinary).reason == Reason::TooCoarse);
}

TEST_CASE("a single limit of nought is guarded, unless a target gives the measure") {
    const Judgement judgement = judged(0.4, at_least(0.0), 0.5, ordinary);
    CHECK(judgement.rule == Rule::Guarded);
    CHECK(judgement.outcome == Outcome::Inconclusive);
    CHECK(judgement.reason == Reason::InGuardStrip);
    CHECK(judged(0.5, at_least(0.0), 0.5, ordinary).outcome == Outcome::Conforms);

    Tolerance with_target = at_least(0.0);
    with_target.target = 2.0;
    CHECK(judged(0.4, with_target, 0.5, ordinary).rule == Rule::Simple);
    CHECK(judged(0.4, with_target, 0.5, ordinary).outcome == Outcome::Conforms);
}

TEST_CASE("a deviation reaches to both sides, so that none at all conforms") {
    CHECK(judged(0.0, deviation(10.0), 5.0, hold_point).outcome == Outcome::Conforms);
    CHECK(judged(5.0, deviation(10.0), 5.0, hold_point).outcome == Outcome::Conforms);
    CHECK(judged(5.1, deviation(10.0), 5.0, hold_point).outcome == Outcome::Inconclusive);
    CHECK(judged(10.0, deviation(10.0), 5.0, ordinary).outcome == Outcome::Conforms);
    CHECK(judged(9.0, deviation(10.0), 5.1, ordinary).reason == Reason::TooCoarse);
    CHECK(judged(10.1, deviation(10.0), 5.0, ordinary).outcome == Outcome::DoesNotConform);
    const Tolerance signed_deviation{
        .low = -3.0, .high = 5.0, .target = {}, .on = ToleranceOn::Deviation};
    CHECK(judged(-3.5, signed_deviation, 1.0, ordinary).outcome == Outcome::DoesNotConform);
}

TEST_CASE("guard bands that leave nothing between them decide nothing") {
    const Judgement judgement = judged(50.0, between(49.0, 51.0), 1.5, hold_point);
    CHECK(judgement.outcome == Outcome::Inconclusive);
    CHECK(judgement.reason == Reason::EmptyAcceptance);
    CHECK(judged(50.0, between(49.0, 51.0), 1.0, hold_point).outcome == Outcome::Conforms);
    CHECK(*fitness(between(49.0, 51.0), 1.5, hold_point) == Fitness::EmptyAcceptance);
    CHECK(*fitness(between(49.0, 51.0), 1.0, hold_point) == Fitness::Fit);
    CHECK(*fitness(between(49.0, 51.0), 1.0, ordinary) == Fitness::TooCoarse);
}

TEST_CASE("decimal fractions do not push a reading off its limit") {
    CHECK(judged(0.1 + 0.2, at_most(0.3), 0.0, ordinary).outcome == Outcome::Conforms);
    CHECK(judged(0.3, at_least(0.1 + 0.2), 0.0, ordinary).outcome == Outcome::Conforms);
    // 1.1 + 2.2 is more than 3.3 in binary: the guarded limit is met exactly in decimals.
    CHECK(judged(3.3, between(1.1, 9.0), 2.2, hold_point).outcome == Outcome::Conforms);
    CHECK(judged(0.7, between(0.0, 0.8), 0.1, hold_point).outcome == Outcome::Conforms);
    CHECK(judged(0.15, between(0.0, 0.3), 0.15, hold_point).outcome == Outcome::Conforms);
    CHECK(judged(1.05, between(1.0, 1.1), 0.1 / 4.0, ordinary).outcome == Outcome::Conforms);
    // The slack is no tolerance: the least that a field instrument shows is judged.
    CHECK(judged(0.3001, at_most(0.3), 0.0, ordinary).outcome == Outcome::DoesNotConform);
    CHECK(judged(1000.0001, at_most(1000.0), 0.0, ordinary).outcome == Outcome::DoesNotConform);
}

TEST_CASE("with no uncertainty the two rules agree and the probability is certain") {
    for (double x = -1.0; x <= 6.0; x += 0.25) {
        CAPTURE(x);
        const Judgement guarded = judged(x, between(0.0, 5.0), 0.0, hold_point);
        const Judgement simple = judged(x, between(0.0, 5.0), 0.0, ordinary);
        CHECK(guarded.outcome == simple.outcome);
        const bool within = x >= 0.0 && x <= 5.0;
        CHECK(guarded.probability_conforming == (within ? 1.0 : 0.0));
    }
}

TEST_CASE("a reading with nothing demanded of it conforms without probability") {
    const Judgement judgement = judged(17.0, {}, 1.0, hold_point);
    CHECK(judgement.outcome == Outcome::Conforms);
    CHECK(judgement.rule == Rule::None);
    CHECK(judgement.reason == Reason::NoLimit);
    CHECK_FALSE(judgement.probability_conforming);
}

TEST_CASE("the probability is that of a normal error of half the expanded uncertainty") {
    // scipy 1.10.1: norm.cdf for y = 50.6, u = 0.5, 45 to 51.
    const Judgement judgement = judged(50.6, between(45.0, 51.0), 1.0, hold_point);
    REQUIRE(judgement.probability_conforming);
    CHECK(*judgement.probability_conforming == doctest::Approx(0.7881446014).epsilon(1e-9));
}

TEST_CASE("a guarded reading that conforms does so with at least 97.5 percent on each side") {
    // Φ(2) = 0.97725: one limit exactly one expanded uncertainty away.
    const Judgement judgement = judged(54.0, at_most(55.0), 1.0, hold_point);
    CHECK(judgement.outcome == Outcome::Conforms);
    CHECK(*judgement.probability_conforming == doctest::Approx(0.9772498680518208).epsilon(1e-12));
}

TEST_CASE("a smaller uncertainty never takes conformity away, nor a wider tolerance") {
    std::mt19937_64 random{20270304};
    std::uniform_real_distribution<double> figure{-10.0, 10.0};
    std::uniform_real_distribution<double> part{0.0, 3.0};
    for (int i = 0; i < 5000; ++i) {
        const double low = figure(random);
        const double high = low + 2.0 * part(random);
        const double reading = figure(random);
        const double u = part(random);
        for (const Importance importance : {hold_point, ordinary}) {
            if (judged(reading, between(low, high), u, importance).outcome != Outcome::Conforms) {
                continue;
            }
            CHECK(judged(reading, between(low, high), 0.5 * u, importance).outcome ==
                  Outcome::Conforms);
            CHECK(judged(reading, between(low - 1.0, high + 1.0), u, importance).outcome ==
                  Outcome::Conforms);
        }
    }
}

TEST_CASE("conformity at a hold point implies conformity as an ordinary check or a coarse one") {
    std::mt19937_64 random{11};
    std::uniform_real_distribution<double> figure{-10.0, 10.0};
    std::uniform_real_distribution<double> part{0.0, 3.0};
    for (int i = 0; i < 5000; ++i) {
        const double low = figure(random);
        const Tolerance tolerance = between(low, low + 2.0 * part(random));
        const double reading = figure(random);
        const double u = part(random);
        if (judged(reading, tolerance, u, hold_point).outcome != Outcome::Conforms) continue;
        const Judgement simple = judged(reading, tolerance, u, ordinary);
        CHECK((simple.outcome == Outcome::Conforms || simple.reason == Reason::TooCoarse));
    }
}

TEST_CASE("figures that are none are refused by name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double infinity = std::numeric_limits<double>::infinity();
    CHECK_FALSE(judge(nan, at_most(1.0), 0.1, ordinary));
    CHECK_FALSE(judge(infinity, at_most(1.0), 0.1, ordinary));
    CHECK_FALSE(judge(0.5, at_most(nan), 0.1, ordinary));
    CHECK_FALSE(judge(0.5, at_most(1.0), -0.1, ordinary));
    CHECK_FALSE(judge(0.5, at_most(1.0), nan, ordinary));
    CHECK_FALSE(judge(0.5, deviation(-1.0), 0.1, ordinary));
    const auto refusal = judge(0.5, between(2.0, 1.0), 0.1, ordinary);
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().what ==
          "The input low limit cannot be used: it must not lie above the high limit.");
}

TEST_CASE("the words of a rule name it") {
    for (const Rule rule : {Rule::Guarded, Rule::Simple, Rule::None}) {
        CHECK(rule_named(in_words(rule)) == rule);
    }
    CHECK_FALSE(rule_named("guard"));
}
