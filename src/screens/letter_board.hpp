// Letters on the glass, for devices without a keyboard.
#pragma once

#include "screens/touch.hpp"

namespace wm::screens {

/// Height the board wants in this width.
[[nodiscard]] float letter_board_height(const Touch& touch, float width);

enum class Case { Small, Capital };

struct BoardDraft {
    bool shown = false;
    Case letters = Case::Small;
};

/// What is pressed goes into the field last written in, in the next frame.
void letter_board(Touch& touch, const Rect& at, BoardDraft& draft);

}  // namespace wm::screens
