#include "demo/season_visits.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace wm::demo {

TEST_CASE("the visits of a plan are the same twice, in the order of their days, some 300 in a season") {
    const auto one = visits_of({});
    const auto two = visits_of({});
    REQUIRE(one.size() == two.size());
    CHECK(std::is_sorted(one.begin(), one.end(), [](const Visit& a, const Visit& b) { return a.day < b.day; }));
    for (std::size_t i = 0; i < one.size(); ++i) CHECK(one[i].house.serial == two[i].house.serial);
    // 11.7 jobs a week in 25 weeks and 3 in the festival week: 296 with a deviation of 17.
    CHECK(one.size() > 240);
    CHECK(one.size() < 350);
    CHECK(std::count_if(one.begin(), one.end(), [](const Visit& v) { return v.week == 10; }) <= 3);
}

TEST_CASE("neighbours share one climate, but for the planted homes of the hollow") {
    const auto classes_of = [](bool planted) {
        std::map<std::string, std::set<std::string>> classes;
        for (const auto& visit : visits_of({.seed = 4, .planted = planted})) classes[visit.house.street].insert(visit.house.frost_class);
        return classes;
    };
    for (const auto& [street, classes] : classes_of(false)) {
        CAPTURE(street);
        CHECK(classes.size() == 1);
    }
    CHECK(classes_of(true).at("Millpond Hollow").size() == 2);
    for (const auto& visit : visits_of({.seed = 4, .planted = false}))
        if (visit.house.direct) CHECK(visit.house.frost_class == "none");
}

TEST_CASE("the planted chances are those of the pattern and nobody else's") {
    Visit visit;
    visit.crew = 2;
    CHECK(first_try_chance({.id = "ins-ends"}, visit, true) == 0.32);
    CHECK(first_try_chance({.id = "ins-ends"}, visit, false) == 0.05);
    visit.crew = 1;
    CHECK(first_try_chance({.id = "ins-ends"}, visit, true) == 0.05);
    CHECK(first_try_chance({.id = "outlet-temp"}, visit, true) == 0.03);
    visit.house.vulnerable = true;
    CHECK(first_try_chance({.id = "outlet-temp"}, visit, true) == 0.55);
    visit.house.relief_batch = "RV-K17";
    CHECK(first_try_chance({.id = "relief-lever"}, visit, true) == 0.20);
    visit.week = 14;
    CHECK(first_try_chance({.id = "loop-freeze-point"}, visit, true) == 0.20);
    visit.crew = 0;
    CHECK(first_try_chance({.id = "loop-freeze-point"}, visit, true) == 0.03);
    CHECK(first_try_chance({.id = "some-number", .number = true}, visit, true) == 0.020);
    CHECK(first_try_chance({.id = "some-word"}, visit, true) == 0.010);
}

TEST_CASE("the planted gauge climbs 2.5 kPa a week from week 8 until it is put right") {
    Dice dice{5};
    const auto mean = [&](int week, int crew) {
        Visit visit;
        visit.week = week;
        visit.crew = crew;
        visit.house.static_kpa = 540.0;
        double sum = 0.0;
        for (int i = 0; i < 4000; ++i) sum += pressure_shown(visit, true, dice);
        return sum / 4000.0;
    };
    // 4000 readings with a deviation of 14 kPa: the mean is known to 0.22 kPa.
    CHECK(std::abs(mean(7, 3) - 350.0) < 1.0);
    CHECK(std::abs(mean(17, 3) - 375.0) < 1.0);
    CHECK(std::abs(mean(22, 3) - 350.0) < 1.0);
    CHECK(std::abs(mean(17, 2) - 350.0) < 1.0);
    Visit visit;
    visit.crew = 3;
    visit.week = 22;
    CHECK(gauge_calibrated_on(visit, {}) == "2026-11-30");
    visit.week = 21;
    CHECK(gauge_calibrated_on(visit, {}) == "2026-06-30");
}

}  // namespace wm::demo
