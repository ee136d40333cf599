// Letters on the glass, for devices without a keyboard.
#pragma once

#include "screens/touch.hpp"

namespace wm::screens {

/// Height the board wants in this width.
[[nodiscard]] float letter_board_height(const Touch& touch, float width);

enum class Case { Small, Capital };

struct BoardDraft {
    bool shown = false;
    bool by_itself = false;  ///< nobody asked for it: a keyboard that turns up sends it away
    Case letters = Case::Small;
};

/// Comes when a finger has gone into a field, where no keyboard was seen, and goes when one is. Called once a frame, before
/// anything is laid out.
void look_after_board(Attention& attention, BoardDraft& draft);

/// What is pressed goes into the field last written in, in the next frame.
void letter_board(Touch& touch, const Rect& at, BoardDraft& draft);

}  // namespace wm::screens
