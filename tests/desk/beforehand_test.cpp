#include "desk/beforehand.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

std::string told_before(Bench& bench, const std::string& check) {
    std::string all;
    for (const auto& sentence : bench.check(check).beforehand) all += sentence + "\n";
    return all;
}

std::string with_gauge(const std::string& marks) {
    return testing::house_facts(testing::tools({{"PG-1", "pressure gauge", marks, "8 kPa"}}));
}

}  // namespace

TEST_CASE("before the holding test the tool says how long this gauge needs") {
    // Source: t(0.95; 4)·δ/√12 over √(n(n+1)/(12(n−1))), scipy 1.10.1: 1.47 min for 2 kPa marks, 7.36 min for
    // 10 kPa, 1 kPa a minute allowed; and the needle must move by a mark, 10 min for 10 kPa and 20 min for 20 kPa.
    Bench fine{with_gauge("2 kPa")};
    CHECK(told_before(fine, "test-hold").find("over 2 minutes can already show") != std::string::npos);
    Bench middling{with_gauge("10 kPa")};
    CHECK(told_before(middling, "test-hold").find("over 10 minutes can already show") != std::string::npos);
    Bench coarse{with_gauge("20 kPa")};
    CHECK(told_before(coarse, "test-hold").find("need 20 minutes") != std::string::npos);
    Bench two{testing::house_facts(testing::tools({{"PG-1", "pressure gauge", "2 kPa", "8 kPa"},
                                                    {"PG-2", "pressure gauge", "20 kPa", "8 kPa"}}))};
    CHECK(told_before(two, "test-hold").find("With PG-1") != std::string::npos);
    CHECK(told_before(two, "test-hold").find("With PG-2") != std::string::npos);
    Bench none{testing::house_facts(testing::tools({}))};
    CHECK(told_before(none, "test-hold").find("Choose the gauge first") != std::string::npos);
}

TEST_CASE("the sun on the plane and the shadow are those of the place and the minute") {
    // 2026-11-25 09:00 +05:00 at 29.4° N 61.83° E. Source: pyephem 4.1.4: azimuth 126.81°, altitude 17.15°.
    Bench bench;
    const auto north = told_before(bench, "coll-azimuth");
    CHECK(north.find("177.5° on the needle is 180° from true north") != std::string::npos);
    CHECK(north.find("the sun stands at 127° now") != std::string::npos);
    CHECK(told_before(bench, "sun-window").find("Under a clear sky this plane gets about") != std::string::npos);
    bench.clock.pass_days(0);
    *bench.clock.wall_ms += 12LL * 3600 * 1000;
    CHECK(told_before(bench, "sun-window").find("The sun is down") != std::string::npos);
    CHECK(told_before(bench, "coll-azimuth").find("Plumb line") == std::string::npos);
}

TEST_CASE("without longitude nothing is said of the sun but what is missing") {
    Bench bench{testing::house_facts(testing::tools(), "site.longitude")};
    CHECK(told_before(bench, "sun-window").find("latitude and longitude") != std::string::npos);
}

TEST_CASE("before the warm-up test the tool says what loop and store should show, and how surely") {
    Bench bench;
    bench.enter("sun-window", "0 min=800 W/m²; 5 min=805; 10 min=795; 15 min=800; 20 min=800");
    const auto rise = told_before(bench, "temp-rise");
    // Source: the convention of 10 K at 800 W/m² (common practice, no source).
    CHECK(rise.find("Under the sun measured (800 W/m²) riser and downcomer should differ by about 10 K") != std::string::npos);
    CHECK(rise.find("standard uncertainty") != std::string::npos);
    // 2 m² × 800 W/m² × some 0.7 for an hour into 150 L and its vessel: 5 K to 7 K by energy balance.
    const auto at = rise.find("warm the whole store by about ");
    REQUIRE(at != std::string::npos);
    const double hour = std::stod(rise.substr(at + 30));
    CHECK(hour > 5.0);
    CHECK(hour < 7.0);
}

}  // namespace wm::desk
