// Ranking of counts.
#include "audit/pareto.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace wm::audit;

namespace {
std::vector<NamedCount> counts(std::initializer_list<std::int64_t> values) {
    std::vector<NamedCount> named;
    for (const auto value : values) named.push_back({"", value});
    return named;
}
}  // namespace

TEST_CASE("counts are ranked with their running share") {
    // Arithmetic.
    const auto ranked = pareto(counts({7, 40, 12, 3, 25}));
    REQUIRE(ranked);
    const std::int64_t sorted[] = {40, 25, 12, 7, 3};
    const double cumulative[] = {0.459770114943, 0.747126436782, 0.885057471264, 0.965517241379, 1};
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(ranked->rows[i].count == sorted[i]);
        CHECK(std::abs(ranked->rows[i].cumulative_share - cumulative[i]) <= 1e-9);
    }
    CHECK(ranked->vital_few == 3);
    CHECK(ranked->rows.front().place == 1);
}

TEST_CASE("exactly four fifths are enough for the vital few") {
    const auto ranked = pareto(counts({5, 5, 60, 20, 10}));
    REQUIRE(ranked);
    CHECK(ranked->vital_few == 2);
    CHECK(pareto(counts({5, 5, 59, 20, 11}))->vital_few == 3);
    CHECK(pareto(counts({4}))->vital_few == 1);
}

TEST_CASE("equal counts go by name, and the kept one is last whatever its count") {
    const std::vector<NamedCount> named{{"valve", 3}, {"other", 9}, {"anchor", 3}, {"tilt", 4}};
    const auto ranked = pareto(named, "other");
    REQUIRE(ranked);
    CHECK(ranked->rows[0].name == "tilt");
    CHECK(ranked->rows[1].name == "anchor");
    CHECK(ranked->rows[2].name == "valve");
    CHECK(ranked->rows[3].name == "other");
    CHECK(ranked->rows[3].cumulative_share == 1.0);
}

TEST_CASE("nothing to rank is refused") {
    CHECK_FALSE(pareto({}));
    CHECK_FALSE(pareto(counts({0, 0})));
    CHECK_FALSE(pareto(counts({3, -1})));
}
