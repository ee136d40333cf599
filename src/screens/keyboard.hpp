// What was typed since the last frame, apart from what went into a text field.
#pragma once

#include <string>

namespace wm::screens {

/// The keys that mean something to us. Ctrl joins Z, L, plus and minus.
enum class Stroke {
    Enter,
    Space,
    Backspace,
    Escape,
    Tab,
    TabBack,
    PageUp,
    PageDown,
    Left,
    Right,
    Up,
    Down,
    F1,
    F2,
    F3,
    F4,
    F5,
    F6,
    F7,
    F8,
    Undo,
    Lock,
    Larger,
    Smaller
};

/// One frame's typing. A widget that acts on a stroke takes it, so that nothing acts twice.
struct Typing {
    unsigned strokes = 0;  ///< bit per Stroke
    std::string letters;   ///< UTF-8, in order

    [[nodiscard]] bool has(Stroke stroke) const { return (strokes & bit(stroke)) != 0; }
    /// True once: the stroke is gone afterwards.
    [[nodiscard]] bool take(Stroke stroke) {
        const bool was = has(stroke);
        strokes &= ~bit(stroke);
        return was;
    }
    void add(Stroke stroke) { strokes |= bit(stroke); }

private:
    static unsigned bit(Stroke stroke) { return 1U << static_cast<unsigned>(stroke); }
};

/// Reads the current ImGui frame. While a text field is being written in, only the strokes that
/// leave it are given (Tab, Escape, F keys, Ctrl keys, page keys).
[[nodiscard]] Typing read_keyboard();

}  // namespace wm::screens
