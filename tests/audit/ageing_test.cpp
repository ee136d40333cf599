#include "audit/ageing.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

namespace wm::audit {

TEST_CASE("deferrals age by the last day, and what is closed later is open still") {
    AuditTable table;
    for (int i = 0; i < 6; ++i) {
        JobCard card;
        card.job = fmt::format("J-{}", i);
        card.crew = i < 5 ? "C5" : "C1";
        table.jobs.push_back(card);
    }
    const auto put_off = [&](std::size_t job, const char* since, const char* closed) {
        table.deferrals.push_back({.job = job, .check = "temp-rise", .owner = "", .since = since, .until = "", .closed = closed});
    };
    // Days until closed: 3, 5, more than 5, 8, more than 10: the curve of trade-computations 21i,
    // R survival 3.5-3, whose median is 8 days.
    put_off(0, "2026-11-01", "2026-11-04");
    put_off(1, "2026-11-01", "2026-11-06");
    put_off(2, "2026-11-24", "");
    put_off(3, "2026-11-02", "2026-11-10");
    put_off(4, "2026-11-19", "2026-12-24");
    put_off(5, "2026-11-10", "");
    put_off(5, "2026-12-01", "");  // after the last day
    const auto rows = ageing_of(table, "2026-06-01", "2026-11-29");
    REQUIRE(rows.size() == 2);
    CHECK(rows[0].crew == "C1");
    CHECK(rows[0].put_off == 1);
    CHECK(rows[0].forgotten == 1);
    CHECK(rows[0].oldest_days == 19);
    CHECK(rows[0].jobs == std::vector<std::string>{"J-5"});
    CHECK_FALSE(rows[0].median_days);
    CHECK(rows[1].put_off == 5);
    CHECK(rows[1].open == 2);
    CHECK(rows[1].forgotten == 0);
    CHECK(rows[1].oldest_days == 10);
    REQUIRE(rows[1].median_days);
    CHECK(*rows[1].median_days == doctest::Approx(8.0));
    CHECK(ageing_of(table, "2026-11-25", "2026-11-29").empty());
}

}  // namespace wm::audit
