// Entering a PIN: dots, digits and, where the PIN has letters, the letter board.
#pragma once

#include <string>

#include "screens/letter_board.hpp"
#include "screens/touch.hpp"

namespace wm::screens {

struct PinFace {
    std::string_view done = "Open";     ///< words of the key that ends it
    KeyState ready = KeyState::Ready;   ///< of that key
};

/// The row of dots, and the keypad under it: three digits wide, or four and lower where the area is low; the
/// letter board in its place while it is shown. True when the person has ended the PIN. Digits, letters,
/// Backspace and Enter of a keyboard act the same way. What is typed is never drawn and never told to the probe.
[[nodiscard]] bool pin_pad(Touch& touch, const Rect& at, std::string& pin, BoardDraft& board, const PinFace& face);

/// Cuts what the pad needs off the area: the right side of a wide one, the foot of a tall one and, while the
/// letter board is shown, of any.
[[nodiscard]] Rect cut_pin_pad(Touch& touch, Rect& area, const BoardDraft& board);

}  // namespace wm::screens
