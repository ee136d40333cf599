// Acceptance sampling.
#include "audit/sampling.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <limits>

using namespace wm::audit;

TEST_CASE("the code letters of level II change at the lots of the table") {
    // ISO 2859-1:1999, table 1, level II.
    struct Row {
        std::int64_t first, last;
        char letter;
    };
    for (const Row row :
         {Row{2, 8, 'A'}, Row{9, 15, 'B'}, Row{16, 25, 'C'}, Row{26, 50, 'D'}, Row{51, 90, 'E'},
          Row{91, 150, 'F'}, Row{151, 280, 'G'}, Row{281, 500, 'H'}, Row{501, 1200, 'J'}}) {
        CHECK(*code_letter(row.first, InspectionLevel::II) == row.letter);
        CHECK(*code_letter(row.last, InspectionLevel::II) == row.letter);
    }
    CHECK_FALSE(code_letter(1, InspectionLevel::II));
    CHECK_FALSE(code_letter(1201, InspectionLevel::II));
}

TEST_CASE("the samples of the letters are those of the table") {
    // ISO 2859-1:1999, table 2-A.
    const std::int64_t samples[] = {2, 3, 5, 8, 13, 20, 32, 50, 80};
    std::size_t i = 0;
    for (const char letter : {'A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J'}) {
        CHECK(*sample_of_letter(letter) == samples[i++]);
    }
    CHECK_FALSE(sample_of_letter('I'));
    CHECK_FALSE(sample_of_letter('a'));
}

TEST_CASE("the sample of a week is that of level I") {
    // ISO 2859-1:1999, table 1, general level I; from memory.
    struct Row {
        std::int64_t jobs, sample;
    };
    for (const Row row : {Row{0, 0}, Row{1, 1}, Row{2, 2}, Row{15, 2}, Row{16, 3}, Row{25, 3},
                          Row{26, 5}, Row{90, 5}, Row{91, 8}, Row{150, 8}}) {
        CAPTURE(row.jobs);
        CHECK(*weekly_sample(row.jobs) == row.sample);
    }
    CHECK_FALSE(weekly_sample(-1));
    CHECK_FALSE(weekly_sample(1201));
}

TEST_CASE("plans are those of the table, arrows followed") {
    // ISO 2859-1:1999, table 2-A; acceptance numbers from memory.
    using enum QualityLimit;
    struct Row {
        std::int64_t lot;
        QualityLimit limit;
        Plan plan;
    };
    for (const Row& row :
         {Row{80, OnePercent, {13, 0}}, Row{140, OnePercent, {13, 0}},
          Row{200, OnePercent, {50, 1}}, Row{400, OnePercent, {50, 1}},
          Row{1000, OnePercent, {80, 2}}, Row{20, TwoAndAHalfPercent, {5, 0}},
          Row{30, TwoAndAHalfPercent, {5, 0}}, Row{80, TwoAndAHalfPercent, {20, 1}},
          Row{200, TwoAndAHalfPercent, {32, 2}}, Row{10, FourPercent, {3, 0}},
          Row{20, FourPercent, {3, 0}}, Row{40, FourPercent, {13, 1}},
          Row{120, FourPercent, {20, 2}}, Row{1200, FourPercent, {80, 7}}}) {
        CAPTURE(row.lot);
        CHECK(*single_plan(row.lot, row.limit) == row.plan);
    }
}

TEST_CASE("a sample as large as the lot is all of it, and none may fail") {
    CHECK(*single_plan(10, QualityLimit::OnePercent) == Plan{10, 0});
    CHECK(*single_plan(13, QualityLimit::OnePercent) == Plan{13, 0});
    CHECK(*single_plan(14, QualityLimit::OnePercent) == Plan{13, 0});
}

TEST_CASE("the probability to accept agrees with computed values") {
    // scipy 1.10.1, binom and hypergeom.
    CHECK(*acceptance_probability({80, 2}, 0.01) == doctest::Approx(0.9534468143).epsilon(1e-6));
    CHECK(*acceptance_probability({13, 0}, Lot{60, 6}) ==
          doctest::Approx(0.2144775293).epsilon(1e-6));
}

TEST_CASE("the share that is accepted 19 times in 20 is that of the printed curve") {
    // ISO 2859-1, operating characteristic of letter J, 1.0 %: 1.03 %, from memory.
    const auto share = failing_share_accepted({80, 2}, 0.95);
    REQUIRE(share);
    CHECK(std::abs(*share - 0.0103) <= 0.0001);
    CHECK(*acceptance_probability({80, 2}, *share) == doctest::Approx(0.95).epsilon(1e-9));
}

TEST_CASE("more failures are accepted less often, and a large lot is like an endless one") {
    double last = 1.1;
    for (double p = 0.0; p <= 1.0; p += 0.05) {
        const double now = *acceptance_probability({20, 1}, p);
        CHECK(now <= last);
        last = now;
    }
    CHECK(*acceptance_probability({20, 1}, Lot{1000000, 50000}) ==
          doctest::Approx(*acceptance_probability({20, 1}, 0.05)).epsilon(1e-4));
    CHECK(*acceptance_probability({20, 1}, 0.0) == 1.0);
    CHECK(*acceptance_probability({20, 20}, 1.0) == 1.0);
}

TEST_CASE("looking at all of a lot finds what fails") {
    CHECK(*acceptance_probability({10, 0}, Lot{10, 1}) == doctest::Approx(0.0));
    CHECK(*acceptance_probability({10, 1}, Lot{10, 1}) == doctest::Approx(1.0));
}

TEST_CASE("plans that are none are refused") {
    CHECK_FALSE(acceptance_probability({0, 0}, 0.1));
    CHECK_FALSE(acceptance_probability({5, 6}, 0.1));
    CHECK_FALSE(acceptance_probability({5, -1}, 0.1));
    CHECK_FALSE(acceptance_probability({5, 1}, 1.1));
    CHECK_FALSE(acceptance_probability({5, 1}, std::numeric_limits<double>::quiet_NaN()));
    CHECK_FALSE(acceptance_probability({5, 1}, Lot{4, 1}));
    CHECK_FALSE(acceptance_probability({5, 1}, Lot{10, 11}));
    CHECK_FALSE(failing_share_accepted({5, 5}, 0.95));
    CHECK_FALSE(failing_share_accepted({5, 1}, 1.0));
}
