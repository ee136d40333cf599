#include <doctest/doctest.h>

#include "plant/testing.hpp"

using wm::plant::testing::check_row;
using wm::plant::testing::PublishedRow;

namespace {

const std::vector<PublishedRow> rows = {
    {"thermosiphon-head",
     {{"t_c", "30 °C"}, {"t_h", "50 °C"}, {"H", "1 m"}},
     {{"dp", "74.575302 Pa", "0.2 %"}},
     "(b) python3-iapws 1.5.2 (IF97)"},
    {"thermosiphon-head",
     {{"t_c", "20 °C"}, {"t_h", "35 °C"}, {"H", "0.6 m"}},
     {{"dp", "24.521756 Pa", "0.2 %"}},
     "(b) python3-iapws 1.5.2 (IF97)"},
    {"pipe-friction",
     {{"Re", "100000"}, {"eps_rel", "0.0001"}},
     {{"f_colebrook", "0.018513866", "0.001 %"}, {"f_haaland", "0.01826505301", "0.0001 %"}},
     "(b) scipy 1.10.1 brentq"},
    {"pipe-friction",
     {{"m", "0.015 kg/s"},
      {"t", "40 °C"},
      {"D_i", "0.0202 m"},
      {"L", "6 m"},
      {"K", "8"},
      {"eps", "1.5e-06 m"}},
     {{"v", "0.047172517 m/s", "0.1 %"},
      {"Re", "1448.4854", "0.2 %"},
      {"f", "0.044184084", "0.2 %"},
      {"dp", "23.320269 Pa", "0.3 %"}},
     "(b) ρ, μ python3-iapws 1.5.2 (IF97); roots scipy 1.10.1"},
    {"pipe-friction",
     {{"m", "0.2 kg/s"},
      {"t", "60 °C"},
      {"D_i", "0.0202 m"},
      {"L", "10 m"},
      {"K", "5"},
      {"eps", "1.5e-06 m"}},
     {{"v", "0.63473299 m/s", "0.1 %"},
      {"Re", "27049.934", "0.2 %"},
      {"f", "0.024254605", "0.2 %"},
      {"dp", "3368.4651 Pa", "0.3 %"}},
     "(b) ρ, μ python3-iapws 1.5.2 (IF97); roots scipy 1.10.1"},
    {"thermosiphon-flow",
     {{"t_c", "30 °C"},
      {"t_h", "40 °C"},
      {"H", "0.5 m"},
      {"D_i", "0.0202 m"},
      {"L", "6 m"},
      {"K", "10"},
      {"k_col", "300 Pa s/kg"}},
     {{"head", "16.807553 Pa", "0.2 %"},
      {"m", "0.0092223429 kg/s", "0.5 %"},
      {"Q", "385.39714 W", "0.5 %"}},
     "(b) ρ, μ, cp python3-iapws 1.5.2 (IF97); root scipy 1.10.1"},
    {"thermosiphon-flow",
     {{"t_c", "25 °C"},
      {"t_h", "33 °C"},
      {"H", "0.8 m"},
      {"D_i", "0.0262 m"},
      {"L", "5 m"},
      {"K", "12"},
      {"k_col", "150 Pa s/kg"}},
     {{"head", "18.351139 Pa", "0.2 %"},
      {"m", "0.019959578 kg/s", "0.5 %"},
      {"Q", "667.50091 W", "0.5 %"}},
     "(b) ρ, μ, cp python3-iapws 1.5.2 (IF97); root scipy 1.10.1"},
    {"copper-tube",
     {{"Do", "22 mm"}, {"s", "0.9 mm"}},
     {{"D_i", "20.2 mm", "1e-09"},
      {"V", "0.32047387 L/m", "0.001 %"},
      {"M", "0.53335007 kg/m", "0.01 %"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"copper-tube",
     {{"Do", "15 mm"}, {"s", "0.7 mm"}},
     {{"D_i", "13.6 mm", "1e-09"},
      {"V", "0.14526724 L/m", "0.001 %"},
      {"M", "0.28113924 kg/m", "0.01 %"}},
     "(b') formula evaluated with numpy 1.24.2"},
};

}  // namespace

TEST_CASE("every published row on circulation and tube comes out of the table of computations") {
    for (const auto& row : rows) check_row(row);
}
