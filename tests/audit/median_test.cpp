#include "audit/median.hpp"

#include <doctest/doctest.h>

#include <numeric>

namespace wm::audit {

TEST_CASE("the interval of a median stands at the ranks of the binomial") {
    // Ranks: scipy 1.10.1, the largest r with binom.cdf(r - 1, n, 0.5) <= 0.025.
    struct Row {
        std::uint32_t n, rank;
    };
    for (const Row row : {Row{6, 1}, Row{7, 1}, Row{8, 1}, Row{10, 2}, Row{20, 6}, Row{25, 8}, Row{50, 18}, Row{100, 40}, Row{1000, 469}}) {
        CAPTURE(row.n);
        std::vector<std::uint32_t> figures(row.n);
        std::iota(figures.rbegin(), figures.rend(), 1U);
        const auto interval = median_interval(figures);
        REQUIRE(interval);
        CHECK(interval->low == row.rank);
        CHECK(interval->high == row.n + 1 - row.rank);
        CHECK(interval->median == (row.n + 1) / 2.0);
    }
}

TEST_CASE("five figures hold no interval of 95 %, and none have no median") {
    CHECK_FALSE(median_interval({1, 2, 3, 4, 5}));
    CHECK_FALSE(median_of({}));
    CHECK(median_of({7, 1, 900}) == 7.0);
    CHECK(median_of({7, 1, 9, 900}) == 8.0);
}

}  // namespace wm::audit
