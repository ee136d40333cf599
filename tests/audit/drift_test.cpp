#include "audit/drift.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <random>

#include "units/calendar.hpp"

namespace wm::audit {

namespace {

// Four gauges in two streets, a reading each on most days; gauge 3 climbs by `climb` a day from day 60.
AuditTable readings(std::uint64_t seed, double climb, int days = 120) {
    std::mt19937_64 random{seed};
    std::normal_distribution<double> scatter{0.0, 14.0};
    AuditTable table;
    for (int day = 0; day < days; ++day)
        for (int gauge = 0; gauge < 4; ++gauge) {
            if ((day + gauge) % 3 == 0) continue;
            JobCard card;
            card.job = fmt::format("J-{}-{}", day, gauge);
            card.street = (day / 2 + gauge) % 2 == 0 ? "Upper Sill" : "Lower Sill";
            card.day = units::day_of_number(20'000 + day);
            const double mean = card.street == "Upper Sill" ? 310.0 : 350.0;
            const double drift = gauge == 3 && day >= 60 ? climb * (day - 60) : 0.0;
            table.gauges.push_back({.job = table.jobs.size(), .check = "pressure-limit-set",
                                    .instrument = fmt::format("PG-{}", gauge), .kpa = mean + scatter(random) + drift,
                                    .day = card.day});
            table.jobs.push_back(std::move(card));
        }
    return table;
}

std::vector<GaugeDrift> drifts(const AuditTable& table) { return gauge_drifts(table, "2000-01-01", "2100-01-01"); }

}  // namespace

TEST_CASE("the quiet run length agrees with the Markov chain of the same sums") {
    // Brook and Evans 1972, Biometrika 59:539-549, 2001 states, solved in numpy 1.24.2 with the
    // normal distribution of scipy 1.10.1. NIST/SEMATECH e-Handbook 6.3.2.3.1 prints 336 and 930 for
    // h of 4 and 5 (from memory). The closed form is an approximation: 1 % from h = 4 on.
    struct Row {
        double slack, decision, length, within;
    };
    for (const Row& row : {Row{0.5, 4.0, 335.3672555, 0.01}, Row{0.5, 5.0, 930.8851559, 0.01},
                           Row{0.5, 8.0, 18965.55628, 0.01}, Row{0.25, 8.0, 736.7846426, 0.01},
                           Row{1.0, 2.5, 716.0036230, 0.07}}) {
        CAPTURE(row.decision);
        const auto length = quiet_run_length(row.slack, row.decision);
        REQUIRE(length);
        CHECK(std::abs(*length / row.length - 1.0) < row.within);
    }
    CHECK_FALSE(quiet_run_length(0.0, 5.0));
    CHECK_FALSE(quiet_run_length(0.5, 0.0));
}

TEST_CASE("the chance of a sum grows with the readings and falls with its height") {
    CHECK(*chance_of_sum(0.5, 5.0, 0.0) == 0.0);
    CHECK(*chance_of_sum(0.5, 5.0, 50.0) < *chance_of_sum(0.5, 5.0, 100.0));
    CHECK(*chance_of_sum(0.5, 6.0, 50.0) < *chance_of_sum(0.5, 5.0, 50.0));
    // 50 readings, both sides: 100 / 938.2 in the exponent. Arithmetic.
    CHECK(*chance_of_sum(0.5, 5.0, 50.0) == doctest::Approx(1.0 - std::exp(-100.0 / 938.2223642)).epsilon(1e-9));
    CHECK_FALSE(chance_of_sum(0.5, 5.0, -1.0));
}

TEST_CASE("a gauge that climbs is found, with the day it began, and its neighbours are not blamed") {
    for (const std::uint64_t seed : {1U, 2U, 3U, 4U, 5U, 6U}) {
        CAPTURE(seed);
        const auto found = drifts(readings(seed, 1.0));
        REQUIRE(found.size() == 4);
        CHECK(found[0].instrument == "PG-3");
        CHECK(found[0].upward);
        CHECK(found[0].p < 1e-6);
        CHECK(found[0].sums.first_signal.has_value());
        const int onset = *units::day_number(found[0].days[found[0].onset]) - 20'000;
        CHECK(onset > 40);
        CHECK(onset < 90);
        CHECK(found[1].p > 1e-3);
    }
}

TEST_CASE("a gauge that reads ever lower is found on the other side") {
    const auto found = drifts(readings(7, -1.0));
    CHECK(found[0].instrument == "PG-3");
    CHECK_FALSE(found[0].upward);
    CHECK(found[0].p < 1e-6);
}

TEST_CASE("gauges that drift nowhere seldom look as if they did") {
    // 400 gauges; 1 in 100 of them may have p below 0.01, the standard error is 0.5 points.
    int low = 0;
    for (std::uint64_t seed = 100; seed < 200; ++seed)
        for (const auto& drift : drifts(readings(seed, 0.0))) low += drift.p < 0.01 ? 1 : 0;
    CHECK(low <= 4 + 6);
}

TEST_CASE("a new calibration starts anew") {
    auto table = readings(1, 1.0);
    for (auto& reading : table.gauges)
        if (reading.instrument == "PG-3") reading.calibrated = reading.day < "2024-12-03" ? "2024-01-01" : "2024-12-03";
    int series = 0;
    for (const auto& drift : drifts(table)) series += drift.instrument == "PG-3" ? 1 : 0;
    CHECK(series == 2);
}

TEST_CASE("too few other gauges in a street give no comparison") {
    CHECK(drifts(readings(1, 1.0, 9)).empty());
    CHECK(drifts(AuditTable{}).empty());
}

}  // namespace wm::audit
