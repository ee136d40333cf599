// Sketches of what is done on the roof. What they show is common practice, no source.
#include "figures/sketch_pen.hpp"

namespace wm::figures {

using drawing::Anchor;
using drawing::Ink;

void sketch_torque(SketchPen& pen) {
    // Bracket, bolt and nut from the side; the wrench across.
    pen.shape({{6, 50}, {50, 50}, {50, 56}, {6, 56}}, Ink::Tint);
    pen.shape({{24, 44}, {34, 44}, {34, 50}, {24, 50}}, Ink::Tint);
    pen.line({{29, 56}, {29, 64}}, 2.0);
    pen.line({{27, 42.5}, {33, 51}}, 1.4, Ink::Bad);
    pen.words(36, 66, "paint line over the nut");
    pen.shape({{25, 32}, {33, 32}, {33, 44}, {25, 44}}, Ink::Paper);
    pen.shape({{33, 34}, {92, 34}, {92, 38}, {33, 38}}, Ink::Paper);
    pen.shape({{92, 32}, {112, 32}, {112, 40}, {92, 40}}, Ink::Tint);
    pen.arrow({102, 12}, {102, 31});
    pen.words(98, 10, "pull at the grip", Anchor::Middle);
    pen.words(34, 14, "slowly, once, and", Anchor::Middle);
    pen.words(34, 19, "stop at the click", Anchor::Middle);
    // Square to the bolt.
    pen.line({{33, 44}, {38, 44}, {38, 38}}, 0.5, Ink::Accent);
    pen.words(60, 46, "square to the bolt");
    pen.right(56.5, 45);
}

void sketch_tilt(SketchPen& pen) {
    pen.line({{6, 62}, {114, 62}}, 0.6);
    pen.shape({{14, 60}, {16, 56}, {94, 15.5}, {96, 19}}, Ink::Tint);
    // The inclinometer lies on the frame.
    pen.shape({{44, 41.5}, {40.5, 34.5}, {61, 24}, {64.6, 31}}, Ink::Paper);
    pen.disc(52.5, 33, 3.0, Ink::Paper);
    pen.line({{52.5, 33}, {52.5, 30.4}}, 0.6);
    pen.words(40, 18, "on the frame, along its fall", Anchor::Middle);
    pen.arrow({44, 20}, {50, 26.5});
    pen.arc(14, 62, 34, -27.5, 0);
    pen.words(51, 56, "tilt");
    pen.dashes({14, 62}, {60, 62});
    pen.words(86, 40, "not on the");
    pen.words(86, 45, "glass: it bends");
    pen.wrong(82, 40);
}

void sketch_shadow_azimuth(SketchPen& pen) {
    pen.disc(104, 10, 6, Ink::Sun);
    // A plumb line from a stand, and its shadow on a level board, in perspective.
    pen.shape({{8, 62}, {34, 40}, {100, 40}, {74, 62}}, Ink::Tint);
    pen.line({{62, 50}, {62, 8}}, 0.5);
    pen.line({{50, 8}, {64, 8}}, 1.0);
    pen.line({{50, 8}, {50, 50}}, 1.0);
    pen.shape({{60.6, 44}, {63.4, 44}, {62, 50}}, Ink::Text);
    pen.line({{62, 50}, {28, 58}}, 1.4, Ink::Faint);
    pen.words(12, 68, "shadow at solar noon = true north–south");
    pen.line({{98, 15}, {66, 47}}, 0.4, Ink::Faint);
    // The bearing of the collector is read against that line.
    pen.dashes({62, 50}, {88, 44});
    pen.arc(62, 50, 20, 166, 205);
    pen.words(10, 30, "angle between");
    pen.words(10, 35, "shadow and fall");
    pen.words(10, 40, "of collector");
    pen.words(70, 22, "plumb line");
    pen.wrong(86, 30);
    pen.words(90, 31.4, "compass near");
    pen.words(90, 36.4, "steel lies");
}

void sketch_ladder(SketchPen& pen) {
    pen.line({{4, 64}, {116, 64}}, 0.8);
    pen.shape({{70, 64}, {70, 22}, {112, 22}, {112, 64}}, Ink::Tint);
    pen.line({{64, 22}, {114, 22}}, 1.4);
    pen.line({{48, 64}, {66, 8}}, 1.2);
    pen.line({{52, 64}, {70, 8}}, 1.2);
    for (double k = 0.08; k < 0.95; k += 0.09) pen.line({{48 + 18 * k, 64 - 56 * k}, {52 + 18 * k, 64 - 56 * k}}, 0.7);
    pen.arc(50, 64, 15, -72, 0);
    pen.words(73, 58, "65 to 75°");
    pen.line({{76, 22}, {76, 8}}, 0.5, Ink::Accent);
    pen.line({{74, 8}, {78, 8}}, 0.5, Ink::Accent);
    pen.words(79, 13, "a metre over");
    pen.words(79, 18, "the eaves");
    pen.line({{60, 24}, {72, 24}}, 1.4, Ink::Bad);
    pen.words(40, 25, "tied", Anchor::Middle);
    pen.words(6, 50, "firm, level");
    pen.words(6, 55, "ground");
    pen.right(32, 52);
}

}  // namespace wm::figures
