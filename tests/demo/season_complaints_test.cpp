#include "demo/season_complaints.hpp"

#include <algorithm>
#include <cmath>

#include "demo/testing.hpp"
#include "desk/complaints.hpp"
#include "units/calendar.hpp"

namespace wm::demo {

TEST_CASE("the calls of a plan are the same twice, in their order, and a cure follows its call within the season") {
    const SeasonPlan plan{.seed = 319};
    const auto visits = visits_of(plan);
    const auto one = calls_of(plan, visits);
    const auto two = calls_of(plan, visits);
    REQUIRE(one.size() == two.size());
    REQUIRE_FALSE(one.empty());
    CHECK(std::is_sorted(one.begin(), one.end(), [](const Call& a, const Call& b) { return a.day < b.day; }));
    for (std::size_t i = 0; i < one.size(); ++i) {
        CHECK(one[i].day == two[i].day);
        CHECK(one[i].cure.has_value() == two[i].cure.has_value());
        CHECK(one[i].day > visits[one[i].visit].day);
        if (!one[i].cure) continue;
        CHECK(one[i].cure->day == two[i].cure->day);
        CHECK(one[i].cure->day > one[i].day);
        CHECK(one[i].cure->day <= units::day_after(plan.first_monday, 7 * plan.weeks - 1).value());
    }
}

TEST_CASE("three calls in four are cured, but for bursts at homes that were taken for free of frost") {
    int all = 0, cured = 0, misread = 0;
    for (std::uint64_t seed = 1; seed <= 120; ++seed) {
        // Calls of the last nine days may be cured after the season; the bound below leaves room for them.
        const SeasonPlan plan{.seed = seed};
        const auto visits = visits_of(plan);
        for (const auto& call : calls_of(plan, visits)) {
            if (visits[call.visit].house.frost_class == "none" && (call.symptom == "burst" || call.symptom == "no-water")) {
                ++misread;
                CHECK_FALSE(call.cure);
                continue;
            }
            if (call.week > plan.weeks - 2) continue;
            ++all;
            cured += call.cure ? 1 : 0;
        }
    }
    CHECK(misread > 100);
    REQUIRE(all > 300);
    // Invented: 0.75. Four standard errors of so many calls.
    CHECK(std::abs(static_cast<double>(cured) / all - 0.75) < 4.0 * std::sqrt(0.75 * 0.25 / all));
}

TEST_CASE("what a call came down to is a failure of the catalogue with its symptom, and the check is one that catches it") {
    testing::DemoDesk own{"cures"};
    const auto list = desk::failure_list(own.desk());
    REQUIRE(list);
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const SeasonPlan plan{.seed = seed};
        for (const auto& call : calls_of(plan, visits_of(plan))) {
            if (!call.cure) continue;
            CAPTURE(call.symptom);
            const auto* failure = list->failure(call.cure->cause);
            REQUIRE(failure != nullptr);
            CHECK(std::find(failure->symptoms.begin(), failure->symptoms.end(), call.symptom) != failure->symptoms.end());
            CHECK(std::find(failure->checks.begin(), failure->checks.end(), call.cure->check) != failure->checks.end());
        }
    }
}

TEST_CASE("the hollow is colder than the town, and the sheltered street warmer") {
    Visit hollow, town, sheltered;
    hollow.house.street = "Millpond Hollow";
    town.house.street = "Upper Sill";
    sheltered.house.street = "Dovetail Steps";
    // 9 - 18 (26/26)^1.3 = -9 °C in week 26 (invented).
    CHECK(night_mean_c(town, 26) == doctest::Approx(-9.0));
    CHECK(night_mean_c(hollow, 26) == doctest::Approx(-13.0));
    CHECK(night_mean_c(sheltered, 26) == doctest::Approx(-3.0));
}

}  // namespace wm::demo
