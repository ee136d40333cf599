// Every figure of the week with what it is of, how sure it is, and its jobs.
#include <cmath>
#include <set>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "desk/week.hpp"

namespace wm::desk {

namespace {

void add_jobs(audit::AuditTable& table, const std::string& crew, int failed, int tries) {
    for (int i = 0; i < tries; ++i) {
        audit::JobCard card;
        card.job = fmt::format("J-{:03}", table.jobs.size());
        card.crew = crew;
        card.street = "Upper Sill";
        card.day = "2026-11-25";
        card.week = "2026-W48";
        const auto job = table.jobs.size();
        table.jobs.push_back(card);
        table.results.push_back({.job = job, .check = "ins-ends", .failed = i < failed, .inconclusive = false, .corrected = false, .outcome = "", .day = card.day});
        table.gauges.push_back({.job = job, .check = "pressure-limit-set", .instrument = crew == "C3" ? "PG-3" : "PG-1", .kpa = 300.0 + (i * 7) % 5, .day = card.day});
        if (i < 4) table.deferrals.push_back({.job = job, .check = "temp-rise", .owner = "", .since = "2026-11-01", .until = "2026-11-10", .closed = i == 0 ? "" : "2026-11-03"});
    }
}

}  // namespace

TEST_CASE("a finding, a crew's deferrals, a gauge and the funnel carry their intervals and jobs") {
    audit::AuditTable table;
    add_jobs(table, "C3", 9, 31);
    add_jobs(table, "C1", 6, 142);
    const auto week = counted_week(table, {}, {}, "2026-W48", {});
    REQUIRE(week.findings.size() == 1);
    const auto& finding = week.findings.front();
    // Source: statsmodels 0.13.5, proportion_confint(…, method="wilson"): 9 of 31, 6 of 142.
    REQUIRE(finding.low);
    CHECK(std::abs(*finding.low - 0.1610) < 1e-4);
    CHECK(std::abs(*finding.high - 0.4659) < 1e-4);
    CHECK(std::abs(*finding.others_low - 0.0195) < 1e-4);
    CHECK(std::abs(*finding.others_high - 0.0891) < 1e-4);
    CHECK(finding.compared_with == "like jobs of the other crews");
    REQUIRE(finding.others_jobs);
    CHECK(*finding.others_jobs == std::vector<std::string>{"J-031", "J-032", "J-033", "J-034", "J-035", "J-036"});
    REQUIRE(week.funnel);
    CHECK(std::abs(week.funnel->points[1].low - 0.1610) < 1e-4);
    REQUIRE(week.ageing.size() == 2);
    CHECK(week.ageing[0].forgotten == 1);
    // statsmodels as above: 1 of 4.
    CHECK(std::abs(week.ageing[0].low - 0.0456) < 1e-4);
    CHECK(std::abs(week.ageing[0].high - 0.6994) < 1e-4);
    REQUIRE_FALSE(week.gauges.empty());
    for (const auto& gauge : week.gauges) {
        CAPTURE(gauge.instrument);
        CHECK(gauge.jobs.size() == static_cast<std::size_t>(gauge.readings));
        CHECK(std::set<std::string>(gauge.jobs.begin(), gauge.jobs.end()).contains(gauge.points.back().job));
        // The mean of the last eight with a known scatter: 1.959964 deviations on each side (scipy norm.ppf).
        CHECK(gauge.high_kpa - gauge.recent_kpa == doctest::Approx(1.959964 * gauge.scatter_kpa / std::sqrt(8.0)).epsilon(1e-6));
        CHECK(gauge.recent_kpa - gauge.low_kpa == doctest::Approx(gauge.high_kpa - gauge.recent_kpa));
    }
}

}  // namespace wm::desk
