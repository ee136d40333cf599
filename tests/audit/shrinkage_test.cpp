// Empirical Bayes.
#include "audit/shrinkage.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace wm::audit;

TEST_CASE("shares are drawn towards the common one by the moments of the counts") {
    // Arithmetic.
    const auto result =
        shrunken_shares(std::vector<Tally>{{2, 40}, {9, 50}, {1, 12}, {14, 60}, {5, 45}});
    REQUIRE(result);
    CHECK(result->common_share == doctest::Approx(0.149758454106).epsilon(1e-9));
    CHECK(result->correlation == doctest::Approx(0.02395247739).epsilon(1e-6));
    CHECK(result->weight == doctest::Approx(40.74933488).epsilon(1e-6));
    const double shares[] = {0.1003420946, 0.166420585, 0.1346473356, 0.1995304229, 0.1294768923};
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(std::abs(result->crews[i].share - shares[i]) <= 1e-7);
        CHECK(result->crews[i].credible.low < result->crews[i].share);
        CHECK(result->crews[i].credible.high > result->crews[i].share);
    }
}

TEST_CASE("crews as alike as chance makes them all get the common share") {
    // Arithmetic.
    const auto result = shrunken_shares(std::vector<Tally>{{3, 40}, {3, 41}, {3, 39}, {3, 40}});
    REQUIRE(result);
    CHECK(result->common_share == doctest::Approx(0.075).epsilon(1e-9));
    CHECK(result->correlation == 0.0);
    CHECK(std::isinf(result->weight));
    for (const auto& crew : result->crews) CHECK(crew.share == doctest::Approx(0.075));
}

TEST_CASE("a shrunken share lies between the crew's own and the common one") {
    const std::vector<Tally> crews{{0, 3}, {20, 50}, {1, 30}, {12, 20}, {2, 2}};
    const auto result = shrunken_shares(crews);
    REQUIRE(result);
    REQUIRE(result->correlation > 0.0);
    for (std::size_t i = 0; i < crews.size(); ++i) {
        const double own = crews[i].share();
        CHECK(result->crews[i].share >= std::min(own, result->common_share));
        CHECK(result->crews[i].share <= std::max(own, result->common_share));
    }
    // Three visits without a failure move less than twenty with twelve.
    CHECK(std::abs(result->crews[0].share - result->common_share) <
          std::abs(result->crews[3].share - result->common_share));
}

TEST_CASE("where nothing or everything failed there is nothing to distinguish") {
    const auto none = shrunken_shares(std::vector<Tally>{{0, 4}, {0, 5}, {0, 6}});
    REQUIRE(none);
    CHECK(none->common_share == 0.0);
    CHECK(none->crews[1].share == 0.0);
    const auto all = shrunken_shares(std::vector<Tally>{{4, 4}, {5, 5}, {6, 6}});
    REQUIRE(all);
    CHECK(all->crews[1].share == 1.0);
}

TEST_CASE("crews that cannot be compared are refused") {
    CHECK_FALSE(shrunken_shares({}));
    CHECK_FALSE(shrunken_shares(std::vector<Tally>{{1, 4}, {2, 5}}));
    CHECK_FALSE(shrunken_shares(std::vector<Tally>{{1, 4}, {2, 5}, {0, 0}}));
    CHECK_FALSE(shrunken_shares(std::vector<Tally>{{1, 4}, {6, 5}, {1, 2}}));
    CHECK_FALSE(shrunken_shares(std::vector<Tally>{{1, 1}, {0, 1}, {1, 1}}));
}
