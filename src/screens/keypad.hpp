// The number keys and the large value above them.
#pragma once

#include <string>

#include "screens/touch.hpp"

namespace wm::screens {

/// What the keypad wants done this frame.
enum class Keyed { Nothing, Changed, Save };

struct KeypadFace {
    std::string_view save_words = "Save";
    KeyState save = KeyState::Ready;
    std::string_view save_small = {};  ///< second line: a long word would make all of them small
};

/// Four columns and four rows, or five and three where the area is wide and low; each key at least
/// strong_key_mm; 7 8 9 on top. The value is text as typed:
/// point and comma both go in as they are and are understood when the value is read. Digits, point,
/// comma, minus, Backspace and Enter of a keyboard act the same way.
[[nodiscard]] Keyed keypad(Touch& touch, const Rect& at, std::string& value,
                           const KeypadFace& face);

/// Smallest side of the square one, and smallest sizes of the low one.
inline constexpr float keypad_side_mm = 4.0F * strong_key_mm + 3.0F * gap_mm;
inline constexpr float low_keypad_width_mm = 5.0F * strong_key_mm + 4.0F * gap_mm;
inline constexpr float low_keypad_height_mm = 3.0F * strong_key_mm + 2.0F * gap_mm;

/// Height of the keypad that suits an area of this width.
[[nodiscard]] inline float keypad_height(const Touch& touch, float width) {
    return touch.mm(width >= touch.mm(low_keypad_width_mm) ? low_keypad_height_mm : keypad_side_mm);
}

/// The value, its unit and what it is of, as large as fits.
struct ValueFace {
    std::string_view value;
    std::string_view unit;
    std::string_view above;  ///< "place 3 of 6", "new reading"
    bool other_units = false;  ///< the unit is a key that goes on to the next one
};
/// Height that suits it: more where the words above need a second line.
[[nodiscard]] float value_box_height(const Touch& touch, float width, const ValueFace& face);
/// True when the unit was pressed.
bool value_box(Touch& touch, const Rect& at, const ValueFace& face);

}  // namespace wm::screens
