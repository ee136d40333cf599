#include <doctest/doctest.h>

#include "plant/testing.hpp"

using wm::plant::testing::check_row;
using wm::plant::testing::PublishedRow;

namespace {

const std::vector<PublishedRow> rows = {
    {"solar-fraction",
     {{"A", "50 m²"},
      {"FRUL", "4 W/(m² K)"},
      {"FRta", "0.74"},
      {"FpFR", "0.97"},
      {"tata", "0.96"},
      {"Ta", "-7 °C"},
      {"HT", "1.29e+07 J/m² day"},
      {"N", "31 d"},
      {"L", "3.6e+10 J"}},
     {{"X", "1.5443952", "0.001 %"}, {"Y", "0.38273096", "0.001 %"}, {"F", "0.26305479", "1e-05"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"solar-fraction",
     {{"A", "2 m²"},
      {"FRUL", "4.3 W/(m² K)"},
      {"FRta", "0.76"},
      {"FpFR", "1"},
      {"tata", "0.95"},
      {"Ta", "24 °C"},
      {"HT", "2.1e+07 J/m² day"},
      {"N", "30 d"},
      {"L", "7.5e+08 J"}},
     {{"X", "2.2588416", "0.001 %"}, {"Y", "1.21296", "0.001 %"}, {"F", "0.78840253", "1e-05"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"water-load",
     {{"V", "150 L/d"}, {"Tw", "60 °C"}, {"Tm", "11 °C"}, {"Ta", "-7 °C"}, {"N", "31 d"}},
     {{"L", "947856000 J", "1e-07 %"}, {"Xw", "1.31869158879", "1e-07 %"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"water-load",
     {{"V", "180 L/d"}, {"Tw", "55 °C"}, {"Tm", "14 °C"}, {"Ta", "16 °C"}, {"N", "30 d"}},
     {{"L", "921024000 J", "1e-07 %"}, {"Xw", "1.11214285714", "1e-07 %"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"savings",
     {{"f", "[0.3, 0.5, 0.8]"},
      {"L", "[9e+08, 8e+08, 7e+08] J"},
      {"eta_h", "0.98"},
      {"tariff", "0.24 1/kWh"},
      {"factor", "0.35 kg/kWh"},
      {"C0", "200"},
      {"n", "10 a"},
      {"g", "0.02"},
      {"d", "0.04"}},
     {{"E", "348.639455782 kWh", "1e-07 %"},
      {"money", "83.6734693878", "1e-07 %"},
      {"CO2", "122.023809524 kg", "1e-07 %"},
      {"NPV", "538.380914487", "1e-07 %"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"savings",
     {{"f", "[0.6, 0.7]"},
      {"L", "[6e+08, 6.5e+08] J"},
      {"eta_h", "1"},
      {"tariff", "0.28 1/kWh"},
      {"factor", "0.45 kg/kWh"},
      {"C0", "100"},
      {"n", "1 a"},
      {"g", "0"},
      {"d", "0"}},
     {{"E", "226.388888889 kWh", "1e-07 %"},
      {"money", "63.3888888889", "1e-07 %"},
      {"CO2", "101.875 kg", "1e-07 %"},
      {"NPV", "-36.6111111111", "1e-07 %"}},
     "(b') formula evaluated with numpy 1.24.2"},
};

}  // namespace

TEST_CASE("every published row on yield and savings comes out of the table of computations") {
    for (const auto& row : rows) check_row(row);
}
