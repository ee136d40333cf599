#include <doctest/doctest.h>

#include "plant/testing.hpp"

using wm::plant::testing::check_row;
using wm::plant::testing::PublishedRow;

namespace {

const std::vector<PublishedRow> rows = {
    {"element",
     {{"Pn", "2000 W"}, {"Un", "230 V"}, {"U", "240 V"}},
     {{"R", "26.45 Ω", "0.0001 %"},
      {"P", "2177.693762 W", "0.0001 %"},
      {"I", "9.073724008 A", "0.0001 %"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"element",
     {{"Pn", "3000 W"}, {"Un", "230 V"}, {"U", "221 V"}},
     {{"R", "17.63333333 Ω", "0.0001 %"},
      {"P", "2769.810964 W", "0.0001 %"},
      {"I", "12.53308129 A", "0.0001 %"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"voltage-drop",
     {{"S", "2.5 mm²"}, {"cls", "2"}, {"t", "20 °C"}},
     {{"R", "7.41 Ω/km", "exact"}},
     "(a) IEC 60228 Table 2"},
    {"voltage-drop",
     {{"S", "2.5 mm²"},
      {"cls", "2"},
      {"L", "25 m"},
      {"I", "13 A"},
      {"t", "70 °C"},
      {"Un", "230 V"}},
     {{"R", "8.8657957 Ω/km", "0.01 %"},
      {"dU", "5.7627672 V", "0.01 %"},
      {"pct", "2.505551 %", "0.01 %"}},
     "(b') formula evaluated with numpy 1.24.2 on the printed table"},
    {"insulation-resistance",
     {{"Un", "230 V"}, {"selv", "false"}, {"R", "0.9 MΩ"}},
     {{"test_V", "500 V", "exact"}, {"limit", "1 MΩ", "exact"}, {"ok", "false", "exact"}},
     "(c) IEC 60364-6, from memory"},
    {"insulation-resistance",
     {{"Un", "230 V"}, {"selv", "false"}, {"R", "12 MΩ"}},
     {{"test_V", "500 V", "exact"}, {"limit", "1 MΩ", "exact"}, {"ok", "true", "exact"}},
     "(c) IEC 60364-6, from memory"},
    {"rcd-trip",
     {{"type", "general"}, {"mult", "1"}, {"t", "28 ms"}},
     {{"min", "0 ms", "exact"}, {"max", "300 ms", "exact"}, {"ok", "true", "exact"}},
     "(a) IEC 61008-1 limits"},
    {"rcd-trip",
     {{"type", "S"}, {"mult", "1"}, {"t", "90 ms"}},
     {{"min", "130 ms", "exact"}, {"max", "500 ms", "exact"}, {"ok", "false", "exact"}},
     "(a) IEC 61008-1 limits"},
    {"earth-loop",
     {{"U0", "230 V"}, {"curve", "B"}, {"In", "16 A"}, {"Zm", "1.2 Ω"}},
     {{"I_a", "80 A", "1e-07 %"},
      {"Z_max", "2.875 Ω", "0.0001 %"},
      {"limit", "1.916666667 Ω", "0.0001 %"},
      {"ok", "true", "exact"}},
     "(b') formula evaluated with numpy 1.24.2"},
    {"earth-loop",
     {{"U0", "230 V"}, {"curve", "C"}, {"In", "16 A"}, {"Zm", "1 Ω"}},
     {{"I_a", "160 A", "1e-07 %"},
      {"Z_max", "1.4375 Ω", "0.0001 %"},
      {"limit", "0.9583333333 Ω", "0.0001 %"},
      {"ok", "false", "exact"}},
     "(b') formula evaluated with numpy 1.24.2"},
};

}  // namespace

TEST_CASE("every published row on the electric heater comes out of the table of computations") {
    for (const auto& row : rows) check_row(row);
}
