#include "demo/season.hpp"

#include "demo/testing.hpp"
#include "desk/attest.hpp"
#include "desk/week.hpp"

namespace wm::demo {

TEST_CASE("one week of the season is the same twice, verifies, and fills the week of its Monday") {
    SeasonPlan plan;
    plan.weeks = 1;
    int first_jobs = -1;
    int first_readings = -1;
    for (int round = 0; round < 2; ++round) {
        testing::DemoDesk own{"season"};
        std::vector<int> weeks;
        const auto done = make_season(own.desk(), own.clock, plan, [&](int week) { weeks.push_back(week); });
        REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
        CHECK(weeks == std::vector<int>{1});
        CHECK(done->jobs > 0);
        CHECK(done->readings > 40 * done->jobs);
        CHECK(done->first_week == "2026-W28");
        CHECK(done->last_week == "2026-W28");
        if (round == 0) {
            first_jobs = done->jobs;
            first_readings = done->readings;
            CHECK(desk::attest_journal(own.desk())->genuine);
            const auto week = desk::week_view(own.desk(), "2026-W28");
            REQUIRE(week);
            CHECK(week->jobs == done->jobs);
            CHECK(week->results > 0);
        }
        CHECK(done->jobs == first_jobs);
        CHECK(done->readings == first_readings);
    }
}

}  // namespace wm::demo
