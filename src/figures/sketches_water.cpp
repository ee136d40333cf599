// Sketches of pipes, water and heat. What they show is common practice, no source.
#include "figures/sketch_pen.hpp"

namespace wm::figures {

using drawing::Anchor;
using drawing::Ink;

void sketch_loop_slope(SketchPen& pen) {
    // Right: collector below, store above, hot pipe rising between.
    pen.shape({{6, 62}, {4, 59}, {38, 39}, {40, 42}}, Ink::Tint);
    pen.shape({{42, 8}, {66, 8}, {66, 22}, {42, 22}}, Ink::Paper);
    pen.words(54, 17, "store", Anchor::Middle);
    pen.line({{39, 40}, {42, 34}, {44, 22}}, 1.4, Ink::Hot);
    pen.line({{62, 22}, {60, 58}, {6, 62}}, 1.4, Ink::Cold);
    pen.arrow({36, 34}, {39, 24}, Ink::Hot);
    pen.words(4, 22, "rises all the");
    pen.words(4, 27, "way: 20 mm");
    pen.words(4, 32, "in each metre");
    pen.right(8, 14);
    // Wrong: a dip that holds air.
    pen.line({{76, 54}, {84, 44}, {92, 30}, {100, 42}, {108, 22}}, 1.4, Ink::Hot);
    pen.disc(92, 27.5, 2.2, Ink::Paper);
    pen.words(92, 20, "air stays here", Anchor::Middle);
    pen.wrong(110, 48);
    pen.words(74, 64, "a dip stops the flow");
}

void sketch_refractometer(SketchPen& pen) {
    pen.shape({{8, 34}, {24, 26}, {24, 42}}, Ink::Tint);
    pen.shape({{24, 27}, {62, 27}, {62, 41}, {24, 41}}, Ink::Paper);
    pen.shape({{62, 30}, {70, 30}, {70, 38}, {62, 38}}, Ink::Text);
    pen.disc(15, 24, 2.0, Ink::Fluid);
    pen.arrow({15, 10}, {15, 21});
    pen.words(20, 12, "one drop, no bubble");
    pen.words(6, 50, "clean prism;");
    pen.words(6, 55, "zero it with water");
    pen.words(6, 60, "at the same warmth");
    // What the eye sees: the edge of the shade on the scale.
    pen.disc(96, 34, 20, Ink::Paper, 0.8);
    pen.shape({{81.5, 20.5}, {110.5, 20.5}, {115, 30}, {77, 30}}, Ink::Tint, 0.3);
    pen.line({{77, 30}, {115, 30}}, 0.9, Ink::Accent);
    pen.line({{96, 18}, {96, 50}}, 0.5);
    for (int i = 0; i < 7; ++i) pen.line({{93.5, 20.0 + 5.0 * i}, {98.5, 20.0 + 5.0 * i}}, 0.4);
    pen.words(100, 37, "−18 °C");
    pen.words(117, 64, "read at the edge of the shade", Anchor::End);
}

void sketch_discharge_pipe(SketchPen& pen) {
    pen.shape({{8, 10}, {30, 10}, {30, 26}, {8, 26}}, Ink::Paper);
    pen.words(19, 20, "store", Anchor::Middle);
    pen.shape({{30, 14}, {37, 12}, {37, 20}, {30, 18}}, Ink::Hot);
    pen.line({{37, 17}, {48, 20}, {48, 56}}, 2.4);
    pen.line({{44, 62}, {52, 62}, {50, 66}, {46, 66}}, 0.6);
    pen.words(55, 36, "metal, as wide");
    pen.words(55, 41, "as the outlet,");
    pen.words(55, 46, "falls all the way");
    pen.words(56, 60, "open, seen,");
    pen.words(56, 65, "over a drain");
    pen.right(36, 50);
    // Wrong three times.
    pen.line({{94, 14}, {102, 14}, {102, 30}}, 1.6);
    pen.valve(102, 22.5, 2.8);
    pen.wrong(112, 22);
    pen.words(96, 10, "valve", Anchor::Middle);
    pen.line({{92, 46}, {98, 50}, {104, 40}, {104, 52}}, 1.6);
    pen.wrong(112, 46);
    pen.words(98, 58, "rises", Anchor::Middle);
}

void sketch_insulation_ends(SketchPen& pen) {
    // Right: pipe, wall of insulation, cover; closed up to the fitting.
    pen.shape({{6, 14}, {84, 14}, {84, 36}, {6, 36}}, Ink::Tint);
    pen.line({{6, 13}, {84, 13}}, 1.6);
    pen.line({{6, 37}, {84, 37}}, 1.6);
    pen.shape({{2, 22}, {92, 22}, {92, 28}, {2, 28}}, Ink::Hot);
    pen.shape({{84, 16}, {94, 16}, {94, 34}, {84, 34}}, Ink::Paper);
    pen.words(97, 24, "fitting");
    pen.words(97, 29, "closed in");
    pen.right(104, 14);
    pen.arrow({44, 6}, {44, 12.4});
    pen.words(47, 8, "cover against sun, lapped downhill");
    pen.line({{20, 14}, {20, 22}}, 0.5, Ink::Accent);
    pen.words(22, 19.6, "wall");
    // Wrong: a bare end.
    pen.shape({{6, 48}, {56, 48}, {56, 64}, {6, 64}}, Ink::Tint);
    pen.shape({{2, 53.5}, {84, 53.5}, {84, 58.5}, {2, 58.5}}, Ink::Hot);
    pen.shape({{84, 50}, {92, 50}, {92, 62}, {84, 62}}, Ink::Paper);
    pen.wrong(70, 47);
    pen.words(117, 67, "bare: loses heat, burns", Anchor::End);
}

void sketch_pipe_sensor(SketchPen& pen) {
    pen.shape({{6, 26}, {114, 26}, {114, 38}, {6, 38}}, Ink::Hot);
    pen.shape({{40, 22.4}, {66, 22.4}, {66, 26}, {40, 26}}, Ink::Text);
    pen.line({{66, 24}, {90, 12}}, 1.0);
    pen.line({{45, 21}, {45, 39.5}}, 1.6, Ink::Accent);
    pen.line({{61, 21}, {61, 39.5}}, 1.6, Ink::Accent);
    pen.arc(53, 32, 19, 180, 360, Ink::Text);
    pen.arc(53, 32, 19, 0, 180, Ink::Text);
    pen.words(53, 10, "wrapped", Anchor::Middle);
    pen.words(8, 20, "flat on bare");
    pen.words(8, 24.6, "pipe");
    pen.words(80, 46, "strapped tight,");
    pen.words(80, 51, "alike on both pipes");
    pen.right(76, 45);
    pen.wrong(14, 56);
    pen.words(19, 57.5, "held by hand, on paint, or in the sun");
}

void sketch_holding_test(SketchPen& pen) {
    pen.disc(28, 24, 15, Ink::Paper, 0.9);
    pen.arc(28, 24, 11, 140, 400, Ink::Text);
    pen.line({{28, 24}, {35, 16}}, 1.0, Ink::Bad);
    pen.line({{28, 39}, {28, 52}}, 1.4);
    pen.line({{8, 52}, {112, 52}}, 1.8);
    pen.words(48, 16, "read square from the front,");
    pen.words(48, 21, "after a tap on the glass");
    // Pump, shut off.
    pen.valve(64, 52, 4.5);
    pen.words(64, 64, "shut", Anchor::Middle);
    pen.shape({{92, 44}, {110, 44}, {110, 60}, {92, 60}}, Ink::Tint);
    pen.words(101, 54, "pump", Anchor::Middle);
    pen.arrow({12, 50}, {12, 40});
    pen.words(4, 64, "all air out first");
    pen.words(60, 38, "never with compressed air");
    pen.wrong(55, 36.6);
}

void sketch_tap_temperature(SketchPen& pen) {
    pen.line({{10, 12}, {40, 12}, {44, 16}, {44, 22}}, 3.0);
    pen.line({{22, 12}, {22, 6}}, 1.6);
    pen.line({{17, 6}, {27, 6}}, 1.6);
    pen.line({{44, 24}, {44, 44}}, 2.0, Ink::Hot);
    pen.shape({{34, 42}, {54, 42}, {51, 60}, {37, 60}}, Ink::Paper);
    pen.line({{36, 48}, {52, 48}}, 0.6, Ink::Hot);
    pen.line({{47, 55}, {70, 26}}, 1.2);
    pen.disc(73, 22, 6, Ink::Paper);
    pen.words(82, 18, "wait until the");
    pen.words(82, 23, "figure stands");
    pen.words(82, 28, "still: a minute");
    pen.words(60, 50, "cup under the stream,");
    pen.words(60, 55, "hot side fully open");
    pen.wrong(14, 40);
    pen.words(4, 48, "no hand in");
    pen.words(4, 53, "the water");
}

}  // namespace wm::figures
