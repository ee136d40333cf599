// What a frame put where, so that tests can press things by their names.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "screens/layout.hpp"

namespace wm::screens {

enum class SpotKind { Digit, Answer, Key, Field, Pad, Pin };

struct Spot {
    Rect rect = {};
    Rect seen = {};  ///< the part that is not scrolled away
    SpotKind kind = SpotKind::Key;
    bool reachable = false;  ///< its middle can be touched now: not scrolled away
    bool enabled = true;
    std::string words;  ///< what stands on it
    std::string small = {};      ///< second line of a key
};

/// Words as they were drawn.
struct Lettering {
    std::string path;
    std::string words;
    float size_px = 0.0F;    ///< line height: 1.164 em
    float wanted_px = 0.0F;  ///< the size of its face, before it was shrunk to fit
    bool in_figure = false;  ///< part of a drawing: its letters keep to the scale of the drawing
    Rect at = {};    ///< of prose: all its lines
    Rect seen = {};  ///< the part of them that is not scrolled away
};

/// Absent in production. Names are paths: "run/check/keypad/7".
struct Probe {
    std::map<std::string, Spot, std::less<>> spots;
    std::vector<std::string> twice;    ///< paths two widgets claimed in one frame: a defect
    std::vector<std::string> cut_off;  ///< paths whose words, or hint, did not fit at the least size
    std::vector<std::string> texts;    ///< all prose drawn, in order
    std::vector<std::string> more_below;  ///< paths of low areas with a sign that they go on
    std::vector<Lettering> letters;    ///< all words drawn, in order

    void clear() {
        spots.clear();
        twice.clear();
        cut_off.clear();
        texts.clear();
        more_below.clear();
        letters.clear();
    }
};

}  // namespace wm::screens
