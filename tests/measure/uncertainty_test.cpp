// Combination and propagation of uncertainties.
#include "measure/uncertainty.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

using namespace wm::measure;

TEST_CASE("the end gauge of the guide comes out as printed") {
    // JCGM 100:2008, H.1: 32 nm, 16.7 degrees of freedom, k = 2.92, U = 93 nm at 99 %.
    const std::vector<Contribution> contributions{
        {25.0, 18.0, 1.0}, {9.7, 25.6, 1.0}, {2.9, 50.0, 1.0}, {16.6, 2.0, 1.0}};
    const auto combined = combine(contributions, 0.99);
    REQUIRE(combined);
    CHECK(std::abs(combined->standard_uncertainty - 32.0) < 0.5);
    CHECK(std::abs(combined->effective_degrees - 16.7) < 0.1);
    CHECK(std::abs(combined->coverage_factor - 2.92) < 0.005);
    CHECK(std::abs(combined->expanded_uncertainty - 93.0) < 1.0);
}

TEST_CASE("well known contributions drop out of the degrees of freedom") {
    // scipy 1.10.1 t quantile.
    const std::vector<Contribution> known{
        {0.3, 4.0, 1.0}, {0.2887, unlimited_degrees, 1.0}, {0.15, unlimited_degrees, 1.0}};
    const std::vector<Contribution> nearly{{0.3, 4.0, 1.0}, {0.2887, 1e9, 1.0}, {0.15, 1e9, 1.0}};
    for (const auto& contributions : {known, nearly}) {
        const auto combined = combine(contributions, 0.95);
        REQUIRE(combined);
        CHECK(combined->standard_uncertainty == doctest::Approx(0.4425468224).epsilon(1e-6));
        CHECK(combined->effective_degrees == doctest::Approx(18.941391).epsilon(1e-5));
        CHECK(combined->coverage_factor == doctest::Approx(2.100922).epsilon(1e-5));
        CHECK(combined->expanded_uncertainty == doctest::Approx(0.92975637).epsilon(1e-5));
    }
}

TEST_CASE("with nothing but well known contributions the coverage factor is normal") {
    const std::vector<Contribution> contributions{from_rectangle(1.0), from_resolution(0.5)};
    const auto combined = combine(contributions, 0.95);
    REQUIRE(combined);
    CHECK(std::isinf(combined->effective_degrees));
    CHECK(combined->coverage_factor == doctest::Approx(1.959963984540054));
}

TEST_CASE("what one knows becomes a standard uncertainty") {
    // JCGM 100:2008: 4.2.3, 4.3.7, 4.3.9, F.2.2.1, 4.3.3.
    CHECK(from_scatter(0.6, 9).standard_uncertainty == doctest::Approx(0.2));
    CHECK(from_scatter(0.6, 9).degrees == 8.0);
    CHECK(from_rectangle(1.0).standard_uncertainty == doctest::Approx(0.5773502691896258));
    CHECK(from_triangle(1.0).standard_uncertainty == doctest::Approx(0.408248290463863));
    CHECK(from_resolution(1.0).standard_uncertainty == doctest::Approx(0.2886751345948129));
    CHECK(from_certificate(0.6, 2.0).standard_uncertainty == doctest::Approx(0.3));
}

TEST_CASE("a sensitivity scales its contribution") {
    const std::vector<Contribution> scaled{{0.1, 5.0, -3.0}};
    const std::vector<Contribution> plain{{0.3, 5.0, 1.0}};
    CHECK(combine(scaled, 0.95)->expanded_uncertainty ==
          doctest::Approx(combine(plain, 0.95)->expanded_uncertainty));
}

TEST_CASE("the uncertainty of an instrument comes from its error and its step") {
    // 2 √(1.6²/3 + 5²/12), by hand.
    CHECK(*expanded_uncertainty({1.6, 5.0}) == doctest::Approx(3.427341049073854));
    CHECK(*expanded_uncertainty({0.0, 0.0}) == 0.0);
    CHECK_FALSE(expanded_uncertainty({-1.0, 0.0}));
}

TEST_CASE("a difference takes the figure of the catalogue, else twice the step") {
    CHECK(*difference_uncertainty(0.5, 0.1) == 0.5);
    CHECK(*difference_uncertainty(std::nullopt, 2.0) == 4.0);
    CHECK_FALSE(difference_uncertainty(-0.5, 0.1));
    CHECK_FALSE(difference_uncertainty(std::nullopt, -0.1));
}

TEST_CASE("contributions that give no figure are refused by name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(combine({}, 0.95));
    for (const Contribution bad :
         {Contribution{nan, 4.0, 1.0}, Contribution{-1.0, 4.0, 1.0}, Contribution{1.0, 0.0, 1.0},
          Contribution{1.0, nan, 1.0}, Contribution{1.0, 4.0, nan}, Contribution{0.0, 4.0, 1.0},
          Contribution{1.0, 0.5, 1.0}, Contribution{1e200, 4.0, 1.0}}) {
        CHECK_FALSE(combine(std::array{bad}, 0.95));
    }
    CHECK_FALSE(combine(std::array{Contribution{1.0, 4.0, 1.0}}, 1.0));
    CHECK_FALSE(combine(std::array{Contribution{1.0, 4.0, 1.0}}, 0.0));
    const auto refusal = combine(std::array{Contribution{0.0, 4.0, 1.0}}, 0.95);
    CHECK(refusal.error().what == "The input u cannot be used: not all contributions can be 0.");
}

TEST_CASE("propagation is exact for sums and for products of a single doubtful factor") {
    const auto sum = [](std::span<const double> x) { return 2.0 * x[0] - 3.0 * x[1]; };
    const auto result = propagated(sum, std::array{Estimate{5.0, 0.3}, Estimate{1.0, 0.4}});
    REQUIRE(result);
    CHECK(result->value == doctest::Approx(7.0));
    CHECK(result->standard_uncertainty == doctest::Approx(std::hypot(0.6, 1.2)));
}

TEST_CASE("first-order propagation agrees with drawing the inputs at random") {
    // A mixed temperature, a heat, an uplift with v², a resistance U²/P: the shapes that occur
    // here.
    struct Case {
        const char* name;
        Equation equation;
        std::vector<Estimate> inputs;
    };
    const Case cases[] = {
        {"mixed temperature",
         [](std::span<const double> x) { return x[0] * x[1] + (1.0 - x[0]) * x[2]; },
         {{0.4, 0.02}, {65.0, 0.5}, {15.0, 0.5}}},
        {"heat",
         [](std::span<const double> x) { return x[0] * 4.186 * (x[1] - x[2]); },
         {{150.0, 2.0}, {47.0, 0.25}, {33.0, 0.25}}},
        {"uplift",
         [](std::span<const double> x) { return 1.3 * 0.625 * x[0] * x[0] * x[1]; },
         {{40.0, 1.0}, {2.0, 0.02}}},
        {"element",
         [](std::span<const double> x) { return x[0] * x[0] / x[1]; },
         {{230.0, 2.0}, {2000.0, 40.0}}},
    };
    std::mt19937_64 random{4711};
    for (const Case& each : cases) {
        CAPTURE(each.name);
        const auto first_order = propagated(each.equation, each.inputs);
        REQUIRE(first_order);
        constexpr int trials = 200000;
        double sum = 0.0;
        double squares = 0.0;
        std::vector<double> drawn(each.inputs.size());
        for (int trial = 0; trial < trials; ++trial) {
            for (std::size_t i = 0; i < drawn.size(); ++i) {
                drawn[i] = std::normal_distribution<double>{
                    each.inputs[i].value, each.inputs[i].standard_uncertainty}(random);
            }
            const double off = each.equation(drawn) - first_order->value;
            sum += off;
            squares += off * off;
        }
        const double mean = sum / trials;
        const double spread = std::sqrt(squares / trials - mean * mean);
        // The scatter of a standard deviation of 200,000 draws is 0.16 %; curvature adds as much.
        CHECK(first_order->standard_uncertainty == doctest::Approx(spread).epsilon(0.01));
        CHECK(std::abs(mean) < 0.05 * spread);
    }
}

TEST_CASE("inputs that err together are combined as in the published example of resistance and reactance") {
    // JCGM 100:2008, H.2: Table H.2 (means, standard uncertainties and correlations of V, I and φ from five sets) and
    // the results of Table H.3: R = 127.732 Ω with 0.071 Ω, X = 219.847 Ω with 0.295 Ω, Z = 254.260 Ω with 0.236 Ω.
    const std::array sets{std::array{5.007, 19.663e-3, 1.0456}, std::array{4.994, 19.639e-3, 1.0438},
                          std::array{5.005, 19.640e-3, 1.0468}, std::array{4.990, 19.685e-3, 1.0428},
                          std::array{4.999, 19.678e-3, 1.0433}};
    std::array<double, 3> mean{};
    for (const auto& set : sets)
        for (std::size_t i = 0; i < 3; ++i) mean[i] += set[i] / 5.0;
    std::array<std::array<double, 3>, 3> product{};
    for (const auto& set : sets)
        for (std::size_t i = 0; i < 3; ++i)
            for (std::size_t j = 0; j < 3; ++j) product[i][j] += (set[i] - mean[i]) * (set[j] - mean[j]);
    const auto u = [&](std::size_t i) { return from_scatter(std::sqrt(product[i][i] / 4.0), 5).standard_uncertainty; };
    const auto r = [&](std::size_t i, std::size_t j) { return product[i][j] / std::sqrt(product[i][i] * product[j][j]); };
    CHECK(std::abs(r(0, 1) - -0.36) < 0.005);
    CHECK(std::abs(r(0, 2) - 0.86) < 0.005);
    CHECK(std::abs(r(1, 2) - -0.65) < 0.005);
    const std::array inputs{Estimate{mean[0], u(0)}, Estimate{mean[1], u(1)}, Estimate{mean[2], u(2)}};
    const std::array together{Correlation{0, 1, r(0, 1)}, Correlation{0, 2, r(0, 2)}, Correlation{1, 2, r(1, 2)}};
    struct Row {
        Equation equation;
        double value, uncertainty;
    };
    for (const Row& row : {Row{[](std::span<const double> x) { return x[0] / x[1] * std::cos(x[2]); }, 127.732, 0.071},
                           Row{[](std::span<const double> x) { return x[0] / x[1] * std::sin(x[2]); }, 219.847, 0.295},
                           Row{[](std::span<const double> x) { return x[0] / x[1]; }, 254.260, 0.236}}) {
        const auto found = propagated(row.equation, inputs, together);
        REQUIRE(found);
        CHECK(std::abs(found->value - row.value) < 0.0006);
        CHECK(std::abs(found->standard_uncertainty - row.uncertainty) < 0.0006);
    }
    // Left out, the correlations would nearly triple the doubt of the resistance.
    const auto alone = propagated([](std::span<const double> x) { return x[0] / x[1] * std::cos(x[2]); }, inputs);
    REQUIRE(alone);
    CHECK(alone->standard_uncertainty > 0.19);
}

TEST_CASE("a difference of readings that err together is surer than each, and odd correlations are refused") {
    const auto difference = [](std::span<const double> x) { return x[1] - x[0]; };
    const std::array two{Estimate{20.0, 0.5}, Estimate{34.0, 0.5}};
    CHECK(propagated(difference, two, std::array{Correlation{0, 1, 1.0}})->standard_uncertainty == doctest::Approx(0.0));
    CHECK(propagated(difference, two, std::array{Correlation{0, 1, 0.5}})->standard_uncertainty == doctest::Approx(0.5));
    CHECK_FALSE(propagated(difference, two, std::array{Correlation{0, 1, 1.1}}));
    CHECK_FALSE(propagated(difference, two, std::array{Correlation{0, 2, 0.5}}));
    CHECK_FALSE(propagated(difference, two, std::array{Correlation{1, 1, 0.5}}));
}

TEST_CASE("an equation without a result at its estimates is refused") {
    const auto root = [](std::span<const double> x) { return std::sqrt(x[0]); };
    CHECK_FALSE(propagated(root, std::array{Estimate{-1.0, 0.1}}));
    CHECK_FALSE(propagated(root, std::array{Estimate{0.05, 0.1}}));
    CHECK_FALSE(propagated(root, std::array{Estimate{1.0, -0.1}}));
    CHECK(propagated(root, std::array{Estimate{4.0, 0.1}}));
}
