#include "audit/agreement.hpp"

#include <doctest/doctest.h>

#include <cmath>

namespace wm::audit {

TEST_CASE("kappa and its interval agree with statsmodels to 1e-9") {
    // statsmodels 0.13.5, stats.inter_rater.cohens_kappa: kappa, kappa_low, kappa_upp.
    struct Row {
        AnswerPairs pairs;
        double kappa, low, high;
    };
    for (const Row& row : {Row{{20, 5, 10, 15}, 0.4, 0.151092290476661, 0.6489077095233389},
                           Row{{45, 15, 25, 15}, 0.13043478260869554, -0.06293827779258965, 0.3238078430099807},
                           Row{{25, 35, 5, 35}, 0.25925925925925924, 0.10802896398337367, 0.4104895545351448},
                           Row{{88, 2, 3, 7}, 0.7093023255813949, 0.4684398517973419, 0.9501647993654481},
                           Row{{30, 0, 0, 10}, 1.0, 1.0, 1.0}}) {
        CAPTURE(row.kappa);
        const auto agreement = cohen_kappa(row.pairs);
        REQUIRE(agreement);
        CHECK(std::abs(agreement->kappa - row.kappa) < 1e-9);
        CHECK(std::abs(agreement->interval.low - row.low) < 1e-9);
        CHECK(std::abs(agreement->interval.high - row.high) < 1e-9);
    }
}

TEST_CASE("agreement does not depend on which visitor is named first, nor on what is called a failure") {
    const auto one = cohen_kappa({17, 4, 9, 6});
    const auto swapped = cohen_kappa({17, 9, 4, 6});
    const auto turned = cohen_kappa({6, 9, 4, 17});
    REQUIRE(one);
    CHECK(one->kappa == doctest::Approx(swapped->kappa).epsilon(1e-12));
    CHECK(one->interval.low == doctest::Approx(turned->interval.low).epsilon(1e-12));
}

TEST_CASE("answers that never differ, none at all, or fewer than none give no kappa") {
    CHECK_FALSE(cohen_kappa({12, 0, 0, 0}));
    CHECK_FALSE(cohen_kappa({}));
    CHECK_FALSE(cohen_kappa({-1, 2, 3, 4}));
    CHECK_FALSE(cohen_kappa({1, 2, 3, 4}, 1.0));
}

}  // namespace wm::audit
