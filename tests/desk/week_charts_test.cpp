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

}  // namespace wm::desk
