// The three looks of the window: their colours, and the sizes everything is measured in.
#pragma once

#include <string_view>
#include <vector>

#include "drawing/palette.hpp"

namespace wm::screens {

/// Day is dark text on a paper tone, Night is for attics, Sun is pure black on white.
enum class Look { Day, Night, Sun };

[[nodiscard]] std::string_view in_words(Look look);

/// Grounds and inks of the widgets. What is drawn on a Canvas takes its colours from `ink`.
struct Theme {
    Look look = Look::Day;
    drawing::Colour paper;  ///< the window
    drawing::Colour panel;  ///< a quiet area on the paper
    drawing::Colour text;
    drawing::Colour quiet;     ///< secondary words, still at least 7 : 1
    drawing::Colour line;      ///< edges of keys and rules
    drawing::Colour key;       ///< ground of a key
    drawing::Colour key_down;  ///< the same under the finger
    drawing::Colour key_down_text;
    drawing::Colour selected;  ///< ground of letters marked in a field
    drawing::Colour chosen;    ///< ground of the chosen key, the primary key
    drawing::Colour chosen_text;
    drawing::Colour warn;  ///< ground of a caution
    drawing::Colour warn_text;
    drawing::Colour focus;  ///< ring of the key the keyboard stands on
    float line_mm = 0.3F;   ///< edge of a key
    float mark_mm = 0.7F;   ///< stroke of outcome marks

    [[nodiscard]] drawing::Colour ink(drawing::Ink role) const;
};

[[nodiscard]] Theme theme_of(Look look);

/// Each pair of letters and ground that a screen puts together, for the contrast test.
struct TextPair {
    std::string_view name;
    drawing::Colour letters;
    drawing::Colour ground;
};
[[nodiscard]] std::vector<TextPair> text_pairs(const Theme& theme);

/// Sizes follow the real panel: 1 mm here is 1 mm on the glass.
struct Metrics {
    float px_per_mm = 3.78F;  ///< 96 dots per inch
    int text_percent = 100;   ///< 100, 150 or 200
    float glass_px_per_mm = 0.0F;  ///< what the glass has, where everything shrank to fit it; else 0

    /// Pixels to a true millimetre, as a tape on the glass shows it.
    [[nodiscard]] float on_tape() const { return glass_px_per_mm > px_per_mm ? glass_px_per_mm : px_per_mm; }
    /// Everything is smaller than it should be, by more than a tape shows.
    [[nodiscard]] bool shrank() const { return on_tape() > 1.01F * px_per_mm; }
    [[nodiscard]] float mm(float millimetres) const { return millimetres * px_per_mm; }
    [[nodiscard]] float text_scale() const { return static_cast<float>(text_percent) / 100.0F; }
};

/// Finger sizes in millimetres for gloves, wet or cold hands.
inline constexpr float key_mm = 14.0F;         ///< any key, both ways
inline constexpr float strong_key_mm = 20.0F;  ///< digits and answers, both ways
inline constexpr float gap_mm = 3.0F;          ///< between keys
inline constexpr float edge_mm = 3.0F;         ///< between content and the edge of the window
inline constexpr float narrow_edge_mm = 1.0F;  ///< the same where eight keys need the whole width
inline constexpr float narrow_mm = 140.0F;     ///< windows narrower than this have the narrow edge

/// Em heights; capitals are 0.73 of it. Task text has capitals of 4.4 mm, read at arm's length.
inline constexpr float body_em_mm = 6.06F;
inline constexpr float small_em_mm = 4.4F;
inline constexpr float value_em_mm = 13.0F;

inline constexpr float least_short_mm = 135.0F;  ///< of a window with the keypad and one line of keys
inline constexpr float least_long_mm = 200.0F;

/// What a length of the window measures on a tape.
[[nodiscard]] inline float on_glass_mm(const Metrics& metrics, float mm) { return mm * metrics.px_per_mm / metrics.on_tape(); }

/// Metrics for a window of this size: on a smaller panel everything shrinks together rather than be cut off, and the window
/// says how large its keys are.
[[nodiscard]] Metrics fitted(Metrics wanted, float width_px, float height_px);

}  // namespace wm::screens
