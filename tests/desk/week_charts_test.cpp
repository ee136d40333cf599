#include "desk/week_charts.hpp"

#include <doctest/doctest.h>

namespace wm::desk {

TEST_CASE("charts show the very figures of the view, shares in per cent") {
    WeekView week;
    ShareView row;
    row.name = "ins-ends";
    row.words = "Pipe ends";
    row.failed = 5;
    week.failed = {row};
    WeekPointView point;
    point.week = "2027-W09";
    point.share = 0.25;
    point.centre = 0.1;
    point.high = 0.2;
    point.signals = true;
    week.trend = {point};
    week.funnel = FunnelView{.target = 0.1, .spread = 1.0, .points = {{"Owlcroft", 3, 40, 0.075, false}},
                             .limits = {{40.0, 0.01, 0.2, 0.0, 0.25}}};
    const auto bars = pareto_of(week);
    REQUIRE(bars.bars.size() == 1);
    CHECK(bars.bars[0].name == "Pipe ends");
    CHECK(bars.bars[0].count == 5);
    const auto trend = trend_of(week);
    REQUIRE(trend.points.size() == 1);
    CHECK(trend.points[0].label == "W09");
    CHECK(trend.points[0].value == doctest::Approx(25.0));
    CHECK(trend.points[0].signals);
    const auto funnel = funnel_of(week);
    REQUIRE(funnel.marks.size() == 1);
    CHECK(funnel.marks[0].tries == 40.0);
    CHECK(funnel.steps[0].high998 == 0.25);
    CHECK(funnel_of(WeekView{}).marks.empty());
}

TEST_CASE("a finding is two shares with their intervals, and a gauge its readings") {
    FindingView finding{.kind = "crew and check", .subject = "Jorvane Pellish", .check = "ins-ends", .sentence = "", .failed = 9, .tries = 31,
                        .others_failed = 6, .others_tries = 142, .jobs = {}, .what_to_do = "", .actions = {}};
    const auto chart = finding_chart(finding);
    REQUIRE(chart.rows.size() == 2);
    CHECK(chart.rows[0].name == "Jorvane Pellish");
    CHECK(chart.rows[0].marked);
    CHECK(chart.rows[1].name == "the others");
    CHECK(chart.rows[0].share == doctest::Approx(9.0 / 31.0));
    // Wilson's interval of 9 in 31, 95 %: statsmodels proportion_confint(9, 31, method="wilson").
    CHECK(chart.rows[0].low == doctest::Approx(0.16095800156).epsilon(1e-9));
    CHECK(chart.rows[0].high == doctest::Approx(0.46592329331).epsilon(1e-9));
    finding.subject = "";
    finding.kind = "recent weeks and check";
    CHECK(finding_chart(finding).rows[1].name == "before");
    finding.kind = "instrument drift";
    finding.subject = "PG-4";
    CHECK(finding_chart(finding).rows.empty());

    WeekView week;
    week.gauges = {{.instrument = "PG-4", .readings = 2, .recent_kpa = 20.0, .highest = 6.0, .signal_since = "2026-10-20", .p = 0.001, .scatter_kpa = 14.0,
                    .points = {{"2026-10-01", 3.0, 0.1, false}, {"2026-10-20", 37.0, 6.0, true}}}};
    CHECK(gauge_named(week, "PG-3") == nullptr);
    REQUIRE(gauge_named(week, "PG-4") != nullptr);
    const auto drift = drift_of(*gauge_named(week, "PG-4"));
    REQUIRE(drift.points.size() == 2);
    CHECK(drift.points[1].value == 37.0);
    CHECK(drift.points[1].signals);
    CHECK(drift.points[0].high == 28.0);
    CHECK(drift.points[0].label == "10-01");
}

}  // namespace wm::desk
