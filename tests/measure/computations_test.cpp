// The table of measurement computations, asked as a person would ask.
#include "measure/computations.hpp"

#include <doctest/doctest.h>

#include <set>

#include "measure/testing.hpp"

using namespace wm::measure;
using namespace wm::testing;

TEST_CASE("every check value of the measurement computations comes out of the table") {
    const auto table = measure_computations();
    const Row rows[] = {
        // NIST StRD Norris, certified values.
        {"line-fit",
         "x = [0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, "
         "775.5, 666.9, 338, 447.5, 11.6, 556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, "
         "887.2, 999, 779, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5]; y = [0.1, 338.8, 118.1, 888, "
         "9.2, "
         "228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, "
         "557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, "
         "228.9, 668.4, 449.2, 0.2]",
         {{"b", 1.00211681802, "", 0, 1e-11},
          {"a", -0.262323073774, "", 0, 1e-9},
          {"s", 0.884796396144, "", 0, 1e-9},
          {"s_b", 0.0004297968482, "", 0, 1e-9}}},
        // scipy 1.10.1 linregress.
        {"line-fit",
         "x = [0, 5, 10, 15, 20] min; y = [400, 399.6, 399.5, 399.1, 398.9] kPa",
         {{"b", -0.054, "kPa/min", 0, 1e-8},
          {"a", 399.96, "kPa", 0, 1e-9},
          {"s", 0.07958224258, "kPa", 0, 1e-6},
          {"s_b", 0.005033222957, "kPa/min", 0, 1e-6}}},
        // scipy 1.10.1, linregress and t quantiles.
        {"leak-verdict",
         "t = [0, 5, 10, 15, 20, 25, 30] min; p = [600, 600, 600, 600, 600, 600, 600] kPa; "
         "delta = 1 kPa; conf = 0.95",
         {{"slope", 0.0, "kPa/min", 1e-7},
          {"s_b_eff", 0.010910895, "kPa/min", 0, 1e-5},
          {"lo", -0.028047347, "kPa/min", 0, 1e-5},
          {"hi", 0.028047347, "kPa/min", 0, 1e-5},
          {"L_min", 0.02198598, "kPa/min", 0, 1e-5},
          {"L_up", 0.02198598, "kPa/min", 0, 1e-5},
          {"level", true}}},
        {"leak-verdict",
         "t = [0, 5, 10, 15, 20, 25, 30] min; p = [600, 599.4, 599.1, 598.3, 598, 597.2, 596.9] "
         "kPa; "
         "delta = 0.1 kPa; conf = 0.95; L_a = 0.05",
         {{"slope", -0.1057142857, "kPa/min", 1e-7},
          {"s_b_eff", 0.0049487166, "kPa/min", 0, 1e-5},
          {"lo", -0.11843537, "kPa/min", 0, 1e-5},
          {"hi", -0.092993205, "kPa/min", 0, 1e-5},
          {"L_min", 0.0099719033, "kPa/min", 0, 1e-5},
          {"L_up", 0.11568619, "kPa/min", 0, 1e-5},
          {"level", false},
          {"verdict", "LEAK"}}},
        // scipy 1.10.1, t quantiles.
        {"gauge-test-time",
         "delta = 1 kPa; s = 0 kPa; L = 0.05 kPa/min; n = 7; conf = 0.95",
         {{"T_min", 13.19158814, "min", 0, 1e-6}}},
        {"gauge-test-time",
         "delta = 0.1 kPa; s = 0.15 kPa; L = 0.02 kPa/min; n = 11; conf = 0.95; dp = 5 kPa",
         {{"T_min", 13.10853452, "min", 0, 1e-6}, {"r", 0.02, "", 1e-12}}},
        // JCGM 100:2008 H.1, as printed.
        {"uncertainty",
         "u = [25, 9.7, 2.9, 16.6] nm; nu = [18, 25.6, 50, 2]; p = 0.99",
         {{"u_c", 32.0, "nm", 0.5},
          {"nu_eff", 16.7, "", 0.1},
          {"k", 2.92, "", 0.005},
          {"U", 93.0, "nm", 1.0}}},
        // scipy 1.10.1 t quantile.
        {"uncertainty",
         "u = [0.3, 0.2887, 0.15]; nu = [4, 1e+09, 1e+09]; p = 0.95",
         {{"u_c", 0.4425468224, "", 0, 1e-6},
          {"nu_eff", 18.941391, "", 0, 1e-5},
          {"k", 2.100922, "", 0, 1e-5},
          {"U", 0.92975637, "", 0, 1e-5}}},
        // JCGM 106:2012 clause 7, from memory.
        {"conformity-probability",
         "y = -5.47 V; u = 0.05 V; T_U = -5.4 V",
         {{"p_c", 0.919, "", 0.0005}, {"verdict", "UNDECIDED"}}},
        // scipy 1.10.1 norm.cdf.
        {"conformity-probability",
         "y = 2.95; u = 0.06; T_L = 2.8; T_U = –",
         {{"p_c", 0.9937903347, "", 0, 1e-6}, {"verdict", "PASS"}}},
        {"conformity-probability",
         "y = 50.6; u = 0.5; T_L = 45; T_U = 51",
         {{"p_c", 0.7881446014, "", 0, 1e-6}, {"verdict", "UNDECIDED"}}},
        // Arithmetic.
        {"acceptance-limits",
         "T_L = 45; T_U = 55; U = 1; r = 1; y = 54.4",
         {{"A_L", 46.0, "", 1e-9},
          {"A_U", 54.0, "", 1e-9},
          {"TUR", 5.0, "", 0, 1e-9},
          {"verdict", "UNDECIDED"},
          {"simple", "ACCEPT"},
          {"unfit", false}}},
        {"acceptance-limits",
         "T_L = 45; T_U = 55; U = 1; r = 1; y = 56.2",
         {{"A_L", 46.0, "", 1e-9},
          {"A_U", 54.0, "", 1e-9},
          {"TUR", 5.0, "", 0, 1e-9},
          {"verdict", "REJECT"}}},
        // IEC 60751 table, from memory; the last is arithmetic of the equation.
        {"pt100", "t = 100 °C", {{"R", 138.51, "Ω", 0.006}}},
        {"pt100", "t = -50 °C", {{"R", 80.31, "Ω", 0.006}}},
        {"pt100", "t = 100 °C", {{"R", 138.5055, "Ω", 1e-6}, {"class_A", 0.35, "K", 1e-9}}},
        {"pt100", "R = 138.5055 Ohm", {{"t", 100.0, "°C", 1e-6}}},
        {"pt100", "R = 80.31 Ω", {{"t", -50.0, "°C", 0.02}}},
        // NIST ITS-90 table, from memory.
        {"thermocouple-k", "t = 100 °C", {{"E", 4.096, "mV", 0.0006}}},
        {"thermocouple-k", "t = 50 °C", {{"E", 2.023, "mV", 0.0006}}},
        {"thermocouple-k", "E = 4.096 mV", {{"t", 100.0, "°C", 0.02}}},
        {"thermocouple-k", "E = 2.073 mV; t_cj = 50 degC", {{"t", 100.0, "°C", 0.03}}},
    };
    for (const Row& row : rows) check_row(table, row);
}

TEST_CASE("units follow the reading through a tolerance") {
    check_row(measure_computations(), {"acceptance-limits",
                                       "y = 46 °C; T_U = 50 °C; U = 1 K",
                                       {{"A_U", 49.0, "°C", 1e-9}, {"verdict", "ACCEPT"}}});
    check_row(measure_computations(),
              {"line-fit", "x = [0, 1, 2] h; y = [60, 58, 57] °C", {{"b", -1.5, "K/h", 1e-12}}});
}

TEST_CASE("inputs without an answer are refused, never answered with a figure") {
    const auto table = measure_computations();
    const std::pair<std::string_view, std::string_view> rows[] = {
        {"line-fit", "x = [1, 1, 1]; y = [1, 2, 3]"},
        {"line-fit", "x = [1, 2]; y = [1, 2]"},
        {"line-fit", "x = []; y = []"},
        {"line-fit", "x = [1, 2, nan]; y = [1, 2, 3]"},
        {"leak-verdict", "t = [0, 5, 10] min; p = [1, 1, 1] kPa; delta = 0"},
        {"gauge-test-time", "delta = 1; s = 0; L = 0; n = 7; conf = 0.95"},
        {"gauge-test-time", "delta = 1; s = 0; L = 1; n = 7.5; conf = 0.95"},
        {"gauge-test-time", "delta = 1; s = 0; L = 1; n = 0; conf = 0.95"},
        {"uncertainty", "u = [1, 2]; nu = [3]; p = 0.95"},
        {"uncertainty", "u = [0]; p = 0.95"},
        {"uncertainty", "u = [1]; p = 1"},
        {"conformity-probability", "y = 1; u = 1"},
        {"conformity-probability", "y = 1; u = -1; T_U = 2"},
        {"conformity-probability", "y = 1 V; u = 1 V; T_U = 2 kPa"},
        {"acceptance-limits", "T_L = 5; T_U = 1; U = 1; y = 2"},
        {"pt100", ""},
        {"pt100", "t = 20 °C; R = 100 Ω"},
        {"pt100", "t = 900 °C"},
        {"thermocouple-k", "E = 100 mV"},
    };
    for (const auto& [name, row] : rows) {
        CAPTURE(name);
        CAPTURE(row);
        const auto answer = worked_out(table, name, row);
        REQUIRE_FALSE(answer);
        CHECK_FALSE(answer.error().what.empty());
        CHECK_FALSE(answer.error().where.empty());
        CHECK_FALSE(answer.error().what_to_do.empty());
    }
}

TEST_CASE("every computation says what it is, and gives nothing it does not announce") {
    std::set<std::string> names;
    for (const auto& computation : measure_computations()) {
        CAPTURE(computation.name);
        CHECK(names.insert(computation.name).second);
        CHECK_FALSE(computation.title.empty());
        CHECK_FALSE(computation.on_site.empty());
        CHECK_FALSE(computation.equation.empty());
        CHECK_FALSE(computation.source.empty());
        CHECK_FALSE(computation.range.empty());
    }
    CHECK(names.size() == 8);
}
