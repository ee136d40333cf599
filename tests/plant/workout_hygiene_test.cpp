#include <doctest/doctest.h>

#include "plant/testing.hpp"

using wm::plant::testing::check_row;
using wm::plant::testing::PublishedRow;

namespace {

const std::vector<PublishedRow> rows = {
    {"mixing",
     {{"tm", "50 °C"}, {"th", "70 °C"}, {"tc", "15 °C"}},
     {{"x", "0.6363636364", "1e-06"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"mixing",
     {{"tm", "45 °C"}, {"th", "85 °C"}, {"tc", "10 °C"}},
     {{"x", "0.4666666667", "1e-06"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"scald-time",
     {{"T", "49 °C"}},
     {{"t2", "480 s", "0.0001 %"}, {"t3", "600 s", "0.0001 %"}},
     "(a) the table (secondary source)"},
    {"scald-time",
     {{"T", "60 °C"}},
     {{"t2", "3 s", "0.0001 %"}, {"t3", "5 s", "0.0001 %"}},
     "(a) the table (secondary source)"},
    {"scald-time",
     {{"T", "53 °C"}},
     {{"t2", "45.166359 s", "0.01 %"}, {"t3", "86.94826 s", "0.01 %"}},
     "(b') formula evaluated with numpy 1.24.2 on the table"},
    {"burn-integral",
     {{"T", "50 °C"}},
     {{"t1", "1017.114 s", "0.01 %"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"burn-integral",
     {{"T", "55 °C"}},
     {{"t1", "28.896161 s", "0.01 %"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"legionella-time",
     {{"T", "50 °C"}, {"n", "1"}},
     {{"D", "380 min", "1e-07 %"}, {"t", "380 min", "1e-07 %"}},
     "(a) Sanden et al. 1989 (abstract)"},
    {"legionella-time",
     {{"T", "60 °C"}, {"n", "1"}},
     {{"D", "0.74 min", "1e-07 %"}, {"t", "0.74 min", "1e-07 %"}},
     "(a) Sanden et al. 1989 (abstract)"},
    {"legionella-time",
     {{"T", "57 °C"}, {"n", "5"}},
     {{"D", "4.3058942 min", "0.001 %"}, {"t", "21.529471 min", "0.001 %"}},
     "(b') formula evaluated with numpy 1.24.2 on the published D-values"},
};

}  // namespace

TEST_CASE("every published row on hot water and hygiene comes out of the table of computations") {
    for (const auto& row : rows) check_row(row);
}
