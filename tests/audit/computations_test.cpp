// The table of audit computations, asked as a person would ask.
#include "audit/computations.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <set>

#include "measure/testing.hpp"

using namespace wm::audit;
using namespace wm::testing;

namespace {

using List = std::vector<double>;
constexpr double infinity = std::numeric_limits<double>::infinity();

const wm::units::Output* output_named(const std::vector<wm::units::Output>& outputs,
                                      std::string_view symbol) {
    for (const auto& output : outputs) {
        if (output.symbol == symbol) return &output;
    }
    return nullptr;
}

}  // namespace

TEST_CASE("every check value of the charts comes out of the table") {
    const Row rows[] = {
        // NIST/SEMATECH e-Handbook 6.3.3.2.
        {"p-chart",
         "d = [12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, "
         "15, 9, 12, 7, 13, 9, 6]; n = 50 each",
         {{"pbar", 0.2313, "", 0.0001}, {"LCL", 0.0524, "", 0.0002}, {"UCL", 0.4102, "", 0.0002}}},
        // Arithmetic.
        {"p-chart",
         "d = [4, 6, 3]; n = [50, 60, 45]",
         {{"pbar", 0.0838709677419, "", 0, 1e-9},
          {"LCL", List{0, 0, 0}, "", 1e-9},
          {"UCL", List{0.201474509917, 0.191227822562, 0.207835985801}, "", 1e-9}}},
        // NIST/SEMATECH e-Handbook 6.3.3.1.
        {"u-chart",
         "c = [16, 14, 28, 16, 12, 20, 10, 12, 10, 17, 19, 17, 14, 16, 15, 13, 14, 16, 11, 20, 11, "
         "19, 16, 31, 13]",
         {{"cbar", 16.0}, {"LCL", 4.0}, {"UCL", 28.0}}},
        // Arithmetic.
        {"u-chart",
         "c = [9, 12, 7, 15]; a = [4, 5, 4, 6]",
         {{"ubar", 2.26315789474, "", 0, 1e-9},
          {"LCL", List{0.00658853769109, 0.244820903418, 0.00658853769109, 0.420676730083}, "",
           1e-9},
          {"UCL", List{4.51972725178, 4.28149488606, 4.51972725178, 4.10563905939}, "", 1e-9}}},
        // NIST/SEMATECH e-Handbook 6.3.2.4; data and results recalled.
        {"drift-charts",
         "x = [52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, "
         "51.2, "
         "52.6, 52.4, 53.6, 52.1]; mu0 = 50; sigma = 2.0539; lam = 0.3; L = 3",
         {{"z_last", 51.99, "", 0.006}, {"UCL", 52.5884, "", 0.01}, {"LCL", 47.4115, "", 0.01}}},
        // NIST/SEMATECH e-Handbook 6.3.2.3; data recalled.
        {"drift-charts",
         "x = [324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, "
         "324.6, "
         "324.625, 325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35]; "
         "mu0 = 325; k = 0.3175; h = 4.1959",
         {{"Sp_last", 19.04, "", 0.01}, {"first", 14.0}}},
    };
    for (const Row& row : rows) check_row(audit_computations(), row);
}

TEST_CASE("every check value of the shares comes out of the table") {
    const Row rows[] = {
        // Newcombe 1998, Statistics in Medicine 17:857-872, table I, method 3.
        {"wilson",
         "x = 15; n = 148; conf = 0.95",
         {{"lo", 0.0624, "", 0.0001}, {"hi", 0.1605, "", 0.0001}}},
        {"wilson",
         "x = 0; n = 20; conf = 0.95",
         {{"lo", 0.0, "", 0.0001}, {"hi", 0.1611, "", 0.0001}}},
        {"wilson",
         "x = 81; n = 263; conf = 0.95",
         {{"lo", 0.2553, "", 0.0001}, {"hi", 0.3662, "", 0.0001}}},
        {"wilson",
         "x = 1; n = 29; conf = 95 %",
         {{"lo", 0.0061, "", 0.0001}, {"hi", 0.1718, "", 0.0001}}},
        // scipy 1.10.1 stats.beta.ppf; 0 of 20 by arithmetic, 1 - 0.025^(1/20).
        {"wilson",
         "x = 9; n = 31; conf = 0.95",
         {{"exact_lo", 0.1422285290975251, "", 1e-9}, {"exact_hi", 0.4803606582289093, "", 1e-9}}},
        {"wilson",
         "x = 0; n = 20; conf = 0.95",
         {{"exact_lo", 0.0}, {"exact_hi", 0.16843347098308536, "", 1e-9}}},
        // scipy 1.10.1 mstats.winsorize by a tenth on each side, numpy mean of squares.
        {"funnel-limits",
         "p0 = 0.12; n = 50; xs = [3, 9, 4, 12, 2, 7, 5, 20, 1, 6, 8]; ns = [40, 80, 50, 60, 45, 70, 55, 90, 30, 66, 77]",
         {{"phi", 1.3210532867041134, "", 1e-9}}},
        // Arithmetic.
        {"pareto",
         "n = [7, 40, 12, 3, 25]",
         {{"sorted", List{40, 25, 12, 7, 3}},
          {"cum", List{0.459770114943, 0.747126436782, 0.885057471264, 0.965517241379, 1}, "",
           1e-9},
          {"vital", 3.0},
          {"order", List{2, 5, 3, 1, 4}}}},
        {"pareto",
         "n = [5, 5, 60, 20, 10]",
         {{"sorted", List{60, 20, 10, 5, 5}},
          {"cum", List{0.6, 0.8, 0.9, 0.95, 1}, "", 1e-9},
          {"vital", 2.0}}},
        // scipy 1.10.1 binom.
        {"funnel-limits",
         "p0 = 0.1; n = 50; alpha = 0.05",
         {{"lo", 0.01386292696, "", 1e-6}, {"hi", 0.1797227276, "", 1e-6}}},
        {"funnel-limits",
         "p0 = 0.1; n = 200; alpha = 0.002",
         {{"lo", 0.0378515074, "", 1e-6}, {"hi", 0.1685672639, "", 1e-6}}},
        // Arithmetic.
        {"shrunken-share",
         "x = [2, 9, 1, 14, 5]; n = [40, 50, 12, 60, 45]",
         {{"p", 0.149758454106, "", 0, 1e-9},
          {"rho", 0.02395247739, "", 0, 1e-6},
          {"M", 40.74933488, "", 0, 1e-6},
          {"shrunk", List{0.1003420946, 0.166420585, 0.1346473356, 0.1995304229, 0.1294768923}, "",
           1e-7}}},
        {"shrunken-share",
         "x = [3, 3, 3, 3]; n = [40, 41, 39, 40]",
         {{"p", 0.075, "", 0, 1e-9},
          {"rho", 0.0},
          {"M", infinity},
          {"shrunk", List{0.075, 0.075, 0.075, 0.075}, "", 1e-7}}},
        // Newcombe 1998, Statistics in Medicine 17:873-890, example (b), method 10.
        {"share-difference",
         "x1 = 56; n1 = 70; x2 = 48; n2 = 80",
         {{"d", 0.2, "", 0, 1e-9}, {"lo", 0.0524, "", 0.0001}, {"hi", 0.3339, "", 0.0001}}},
        // statsmodels 0.13.5.
        {"share-difference",
         "x1 = 12; n1 = 50; x2 = 4; n2 = 52",
         {{"d", 0.163076923077, "", 1e-9},
          {"lo", 0.02024929493, "", 1e-6},
          {"hi", 0.3050695862, "", 1e-6}}},
    };
    for (const Row& row : rows) check_row(audit_computations(), row);
}

TEST_CASE("every check value of the tests comes out of the table") {
    const Row rows[] = {
        // Fisher 1935; Agresti.
        {"fisher",
         "t = [[3, 1], [1, 3]]",
         {{"p_two", 0.4857, "", 0.0001}, {"p_greater", 0.2429, "", 0.0001}}},
        // scipy 1.10.1.
        {"fisher",
         "t = [[7, 23], [2, 38]]",
         {{"p_two", 0.03244152788, "", 0, 1e-6}, {"p_greater", 0.02823694471, "", 0, 1e-6}}},
        // Benjamini and Hochberg 1995, section 4.1.
        {"false-discovery",
         "p = [0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, "
         "0.4262, "
         "0.5719, 0.6528, 0.759, 1]; alpha = 0.05",
         {{"n_rej", 4.0}}},
        // statsmodels 0.13.5.
        {"false-discovery",
         "p = [0.04, 0.005, 0.3, 0.02]; alpha = 0.05",
         {{"q", List{0.0533333333333, 0.02, 0.3, 0.04}, "", 1e-8}, {"n_rej", 2.0}}},
        // Freireich et al. 1963; R survival 3.5-3.
        {"time-to-correction",
         "t = [6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35] week; "
         "event = [1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0]",
         {{"time", List{6, 7, 10, 13, 16, 22, 23}, "week"},
          {"S", List{0.857, 0.807, 0.753, 0.69, 0.627, 0.538, 0.448}, "", 0.0006},
          {"se", List{0.0764, 0.0869, 0.0963, 0.1068, 0.1141, 0.1282, 0.1346}, "", 0.0001},
          {"median", 23.0, "week"}}},
        // R survival 3.5-3.
        {"time-to-correction",
         "t = [3, 5, 5, 8, 10] d; event = [1, 1, 0, 1, 0]",
         {{"time", List{3, 5, 8}, "d"},
          {"S", List{0.8, 0.6, 0.3}, "", 1e-6},
          {"se", List{0.1788854382, 0.219089023, 0.2387467277}, "", 1e-6},
          {"median", 8.0, "d"}}},
        // ISO 2859-1, letter J, 1.0 %, from memory.
        {"acceptance-sampling", "n = 80; Ac = 2; Pa = 0.95", {{"p", 0.0103, "", 0.0001}}},
        // scipy 1.10.1.
        {"acceptance-sampling", "n = 80; Ac = 2; p = 0.01", {{"Pa", 0.9534468143, "", 0, 1e-6}}},
        {"acceptance-sampling",
         "N = 60; D_ = 6; n = 13; Ac = 0",
         {{"Pa", 0.2144775293, "", 0, 1e-6}}},
        // ISO 2859-1:1999, tables 1 and 2-A, from memory.
        {"acceptance-sampling",
         "N = 200; AQL = 2.5 %",
         {{"letter", "G"}, {"n", 32.0}, {"Ac", 2.0}}},
        {"acceptance-sampling", "N = 20; AQL = 4", {{"letter", "C"}, {"n", 3.0}, {"Ac", 0.0}}},
    };
    for (const Row& row : rows) check_row(audit_computations(), row);
}

TEST_CASE("no median is said, not made up") {
    const auto outputs =
        worked_out(audit_computations(), "time-to-correction", "t = [3, 8] d; event = [0, 0]");
    REQUIRE(outputs);
    const auto* median = output_named(*outputs, "median");
    REQUIRE(median);
    CHECK(std::holds_alternative<std::monostate>(median->value));
}

TEST_CASE("discoveries stand beside their probabilities") {
    const auto outputs =
        worked_out(audit_computations(), "false-discovery", "p = [0.04, 0.005, 0.3, 0.02]");
    REQUIRE(outputs);
    CHECK(std::get<std::vector<bool>>(output_named(*outputs, "rejected")->value) ==
          std::vector<bool>{false, true, false, true});
}

TEST_CASE("inputs without an answer are refused, never answered with a figure") {
    const std::pair<std::string_view, std::string_view> rows[] = {
        {"p-chart", "d = [1, 2]; n = [5, 6, 7]"},
        {"p-chart", "d = [1]; n = [0]"},
        {"p-chart", "d = [7]; n = [5]"},
        {"p-chart", "d = [1.5]; n = [5]"},
        {"p-chart", "d = []; n = []"},
        {"u-chart", "c = [1]; a = [0]"},
        {"u-chart", "c = [1, 2]; a = [1]"},
        {"u-chart", "c = [-1]"},
        {"wilson", "x = 0; n = 0"},
        {"wilson", "x = 3; n = 2"},
        {"wilson", "x = nan; n = 2"},
        {"wilson", "x = 1; n = 2; conf = 1"},
        {"pareto", "n = [0, 0]"},
        {"drift-charts", "x = [1]; mu0 = 1"},
        {"drift-charts", "x = [1]; mu0 = 1; sigma = 0"},
        {"drift-charts", "x = [1]; mu0 = 1; k = 1; h = 0"},
        {"fisher", "t = [[0, 0], [0, 0]]"},
        {"fisher", "t = [[1, 2, 3], [1, 2, 3]]"},
        {"fisher", "t = [[1, 2], [1, -2]]"},
        {"false-discovery", "p = [1.2]"},
        {"false-discovery", "p = [0.2]; alpha = 0"},
        {"funnel-limits", "p0 = 0; n = 5; alpha = 0.05"},
        {"funnel-limits", "p0 = 0.1; n = 5; xs = [1, 2]"},
        {"funnel-limits", "p0 = 0.1; n = 5; xs = [1]; ns = [4]"},
        {"funnel-limits", "p0 = 0.1; n = 0; alpha = 0.05"},
        {"time-to-correction", "t = [1] d; event = [2]"},
        {"time-to-correction", "t = [1, 2] d; event = [1]"},
        {"time-to-correction", "t = [-1] d; event = [1]"},
        {"acceptance-sampling", "n = 5"},
        {"acceptance-sampling", "n = 5; Ac = 1"},
        {"acceptance-sampling", "n = 5; Ac = 1; p = 0.1; Pa = 0.9"},
        {"acceptance-sampling", "N = 4; D_ = 1; n = 5; Ac = 1"},
        {"acceptance-sampling", "N = 100; AQL = 3"},
        {"shrunken-share", "x = [1, 2]; n = [4, 5]"},
        {"shrunken-share", "x = [1, 2, 0]; n = [4, 5, 0]"},
        {"share-difference", "x1 = 1; n1 = 0; x2 = 1; n2 = 2"},
    };
    for (const auto& [name, row] : rows) {
        CAPTURE(name);
        CAPTURE(row);
        const auto answer = worked_out(audit_computations(), name, row);
        REQUIRE_FALSE(answer);
        CHECK_FALSE(answer.error().what.empty());
        CHECK_FALSE(answer.error().where.empty());
        CHECK_FALSE(answer.error().what_to_do.empty());
    }
}

TEST_CASE("every computation of the audit says what it is") {
    std::set<std::string> names;
    for (const auto& computation : audit_computations()) {
        CAPTURE(computation.name);
        CHECK(names.insert(computation.name).second);
        CHECK_FALSE(computation.title.empty());
        CHECK_FALSE(computation.on_site.empty());
        CHECK_FALSE(computation.equation.empty());
        CHECK_FALSE(computation.source.empty());
        CHECK_FALSE(computation.range.empty());
    }
    CHECK(names.size() == 12);
}
