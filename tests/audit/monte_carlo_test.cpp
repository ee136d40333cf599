// What the quality statistics say of their own doubt, against drawing seasons at random.
//
// A share of 95 % from N = 20 000 draws is known to 0.15 points, a standard deviation to 0.5 %;
// four times that is allowed on top of what each method is known to miss by. Seeds are fixed.
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "audit/shares.hpp"
#include "audit/survival.hpp"
#include "workout_mutants.hpp"

namespace wm::audit {
namespace {

constexpr int draws = 20'000;

std::int64_t failures(testing::Dice& dice, int tries, double share) {
    std::int64_t failed = 0;
    for (int i = 0; i < tries; ++i) failed += dice.share() < share;
    return failed;
}

}  // namespace

TEST_CASE("Wilson intervals hold the true share about as often as they say") {
    testing::Dice dice{21};
    double all = 0.0;
    const std::vector<double> shares{0.05, 0.12, 0.2, 0.33, 0.5};
    for (const double share : shares) {
        int inside = 0;
        for (int i = 0; i < draws / 5; ++i) {
            const auto interval = wilson({failures(dice, 40, share), 40}, 0.95);
            REQUIRE(interval);
            inside += interval->low <= share && share <= interval->high;
        }
        const double covered = inside / (draws / 5.0);
        CAPTURE(share);
        // Counts are whole, so one share may be off by up to 3 points; the mean is not.
        CHECK(covered > 0.92);
        all += covered / static_cast<double>(shares.size());
    }
    CHECK(std::abs(all - 0.95) < 0.012);
}

TEST_CASE("the interval of a difference holds the true difference about as often as it says") {
    testing::Dice dice{22};
    int inside = 0;
    for (int i = 0; i < draws; ++i) {
        const Tally before{failures(dice, 50, 0.24), 50}, after{failures(dice, 52, 0.12), 52};
        const auto found = share_difference(before, after, 0.95);
        REQUIRE(found);
        inside += found->interval.low <= 0.12 && 0.12 <= found->interval.high;
    }
    CHECK(std::abs(inside / double{draws} - 0.95) < 0.012);
}

TEST_CASE("the standard error of a curve of open times is the scatter of such curves") {
    testing::Dice dice{23};
    constexpr int repeats = draws, items = 40;
    constexpr double at = 0.7;
    double sum = 0.0, squares = 0.0, stated = 0.0;
    for (int i = 0; i < repeats; ++i) {
        std::vector<OpenTime> times;
        for (int k = 0; k < items; ++k) {
            const double closed = -std::log(1.0 - dice.share()), seen_until = 2.5 * dice.share();
            times.push_back(closed <= seen_until ? OpenTime{closed, Ending::Closed}
                                                 : OpenTime{seen_until, Ending::StillOpen});
        }
        const auto curve = product_limit(times);
        REQUIRE(curve);
        SurvivalStep last;
        for (const auto& step : curve->steps)
            if (step.time <= at) last = step;
        sum += last.open_share;
        squares += last.open_share * last.open_share;
        stated += last.standard_error * last.standard_error;
    }
    const double mean = sum / repeats;
    const double found = std::sqrt(squares / repeats - mean * mean);
    // The product limit has no bias to speak of; Greenwood is up to 3 % low with 40 items.
    CHECK(std::abs(mean - std::exp(-at)) < 0.003);
    CHECK(std::abs(std::sqrt(stated / repeats) / found - 1.0) < 0.05);
}

}  // namespace wm::audit
