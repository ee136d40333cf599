#include "checklist/trend.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

namespace wm::checklist {
namespace {

Check holding_check() {
    Check check;
    check.id = CheckId{"hold"};
    check.kind = Kind::Series;
    check.unit = *units::unit_named("kPa");
    check.works_out = {WorkedOut::HoldTime};
    SeriesPlan plan;
    plan.duration = units::Amount::of(10.0, *units::unit_named("min"));
    plan.allowed_drop = units::Amount::of(10.0, *units::unit_named("kPa"));
    plan.min_points = 6;
    check.series = plan;
    return check;
}

PointTable every_two_minutes(const std::vector<double>& kpa) {
    PointTable table;
    table.channels = {"reading"};
    for (std::size_t i = 0; i < kpa.size(); ++i) {
        table.times_s.push_back(120.0 * static_cast<double>(i));
        table.rows.push_back({units::Amount::of(kpa[i], *units::unit_named("kPa"))});
    }
    return table;
}

InstrumentInUse gauge(const std::string& marks) {
    InstrumentInUse used;
    used.card.id = "PG-1";
    used.card.resolution = marks;
    return used;
}

}  // namespace

TEST_CASE("the trend of a hold agrees with a statistics library") {
    // Source: scipy 1.10.1, stats.linregress and stats.t.ppf; scatter at least resolution/√12 (JCGM 100:2008, F.2.2.1).
    const auto fine = trend_of(holding_check(), every_two_minutes({478, 478, 477, 477, 476, 476}), gauge("2 kPa"), {});
    REQUIRE(fine);
    CHECK(fine->drop == doctest::Approx(0.228571428571).epsilon(1e-9));
    CHECK(fine->low == doctest::Approx(0.036978514121).epsilon(1e-8));
    CHECK(fine->high == doctest::Approx(0.420164343022).epsilon(1e-8));
    CHECK(fine->surely_below == doctest::Approx(0.375682832731).epsilon(1e-8));
    CHECK(fine->allowed == doctest::Approx(1.0));
    CHECK(fine->verdict == measure::LeakVerdict::Pass);

    const auto leaking = trend_of(holding_check(), every_two_minutes({478, 474, 470, 467, 463, 460}), gauge("2 kPa"), {});
    REQUIRE(leaking);
    CHECK(leaking->drop == doctest::Approx(1.8).epsilon(1e-9));
    CHECK(leaking->low == doctest::Approx(1.608407085550).epsilon(1e-8));
    CHECK(leaking->verdict == measure::LeakVerdict::Leak);
}

TEST_CASE("the trend is told in the unit of the gauge, with that of the check in brackets") {
    const auto fine = trend_of(holding_check(), every_two_minutes({478, 478, 477, 477, 476, 476}), gauge("2 kPa"), {}, units::unit_named("bar"));
    REQUIRE(fine);
    // 1 bar = 100 kPa; the figures are those of the test above.
    CHECK(fine->words.find("falls 0.0023 bar (0.23 kPa) a minute") != std::string::npos);
    CHECK(fine->words.find("0.01 bar (1.00 kPa) is allowed") != std::string::npos);
    CHECK(fine->drop == doctest::Approx(0.228571428571).epsilon(1e-9));
}

TEST_CASE("a coarse gauge cannot tell what a fine one proves") {
    // Source: as above; 0.9857 kPa/min with 2 kPa marks is surely under 1.1410 only.
    const std::vector<double> slow{478, 477, 475, 472, 470, 469};
    const auto fine = trend_of(holding_check(), every_two_minutes(slow), gauge("2 kPa"), {});
    REQUIRE(fine);
    CHECK(fine->surely_below == doctest::Approx(1.141004690545).epsilon(1e-8));
    CHECK(fine->verdict == measure::LeakVerdict::Inconclusive);
    const auto coarse = trend_of(holding_check(), every_two_minutes({478, 478, 476, 476, 475, 475}), gauge("10 kPa"), {});
    REQUIRE(coarse);
    CHECK(coarse->verdict == measure::LeakVerdict::Inconclusive);
    CHECK(coarse->words.find("cannot tell") != std::string::npos);

    // A needle that stands still for ten minutes on marks of 12 kPa has said nothing of 1 kPa a minute.
    const auto still = trend_of(holding_check(), every_two_minutes({480, 480, 480, 480, 480, 480}), gauge("8 kPa"), {});
    REQUIRE(still);
    CHECK(still->verdict == measure::LeakVerdict::Pass);
    const auto stuck = trend_of(holding_check(), every_two_minutes({480, 480, 480, 480, 480, 480}), gauge("12 kPa"), {});
    REQUIRE(stuck);
    CHECK(stuck->surely_below < stuck->allowed);
    CHECK(stuck->verdict == measure::LeakVerdict::Inconclusive);

    Judged judged;
    judged.outcome = Outcome::Conforms;
    weigh_trend(judged, *coarse);
    CHECK(judged.outcome == Outcome::Inconclusive);
    judged.outcome = Outcome::DoesNotConform;
    weigh_trend(judged, *coarse);
    CHECK(judged.outcome == Outcome::DoesNotConform);
    judged.outcome = Outcome::Open;
    judged.why = "2 of 6 readings are there.";
    weigh_trend(judged, *coarse);
    CHECK(judged.outcome == Outcome::Open);
    CHECK(judged.why == "2 of 6 readings are there.");
}

TEST_CASE("warming that holds the needle up does not hide a leak from the line") {
    // Sealed water pushes its pressure up as it warms, so a steady needle over warming water is a leak (common practice,
    // no source). A straight line added to the readings adds its own slope to the fitted one and nothing else.
    const std::vector<double> steady{480, 480, 480, 480, 480, 480};
    Judged drop;
    drop.measured = units::Amount::of(18.0, *units::unit_named("kPa"));
    const auto warmed = trend_of(holding_check(), every_two_minutes(steady), gauge("2 kPa"), drop);
    REQUIRE(warmed);
    CHECK(warmed->drop == doctest::Approx(1.8).epsilon(1e-9));
    CHECK(warmed->verdict == measure::LeakVerdict::Leak);

    const std::vector<double> falling{478, 478, 477, 477, 476, 476};
    const auto plain = trend_of(holding_check(), every_two_minutes(falling), gauge("2 kPa"), {});
    drop.measured = units::Amount::of(2.0, *units::unit_named("kPa"));  // nothing but the plain drop
    const auto same = trend_of(holding_check(), every_two_minutes(falling), gauge("2 kPa"), drop);
    drop.measured = units::Amount::of(0.5, *units::unit_named("kPa"));  // cooling took 1.5 kPa
    const auto cooled = trend_of(holding_check(), every_two_minutes(falling), gauge("2 kPa"), drop);
    REQUIRE(plain);
    REQUIRE(same);
    REQUIRE(cooled);
    CHECK(same->drop == doctest::Approx(plain->drop).epsilon(1e-12));
    CHECK(cooled->drop == doctest::Approx(plain->drop - 0.15).epsilon(1e-9));
    CHECK(cooled->high - cooled->low == doctest::Approx(plain->high - plain->low).epsilon(1e-9));
}

TEST_CASE("no trend is claimed of two readings, of a gauge without marks, or of a check that plans no hold") {
    CHECK_FALSE(trend_of(holding_check(), every_two_minutes({478, 477}), gauge("2 kPa"), {}));
    CHECK_FALSE(trend_of(holding_check(), every_two_minutes({478, 477, 477}), gauge(""), {}));
    CHECK_FALSE(trend_of(holding_check(), every_two_minutes({478, 477, 477}), std::nullopt, {}));
    auto plain = holding_check();
    plain.works_out.clear();
    CHECK_FALSE(trend_of(plain, every_two_minutes({478, 477, 477}), gauge("2 kPa"), {}));
}

}  // namespace wm::checklist
