// The widgets: each has a name, acts on release, and is reached by finger, pen and keyboard alike.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "drawing/canvas.hpp"
#include "screens/fonts.hpp"
#include "screens/keyboard.hpp"
#include "screens/probe.hpp"
#include "screens/small_picture.hpp"
#include "screens/theme.hpp"

namespace wm::screens {

/// Where the keyboard stands, and whether a finger is scrolling. Kept between frames.
struct Attention {
    std::string at;                  ///< path of the widget with the focus ring; empty for none
    std::vector<std::string> order;  ///< widgets of the frame, in the order Tab visits them
    std::string writing;             ///< path of the field last written in
    std::string letters;             ///< typed on the letter board, not yet in the field
    bool letters_wanted = false;     ///< a finger went into a field, and is perhaps still on it
    int look_frames = 0;             ///< frames in which the field written in is brought into sight: the board took its place
    bool letters_done = false;       ///< what was written has served: a board that came by itself may go
    bool has_keyboard = false;       ///< letters came from a keyboard: the glass need not offer its own
    bool scrolling = false;          ///< the finger moved too far to be a press
    double now_s = 0.0;              ///< monotonic time of the frame
    double deaf_until_s = 0.0;       ///< what is pressed before that was meant for what stood there before
    std::string why;                 ///< a blocked key was touched: the sentence why it is
    double why_until_s = 0.0;        ///< until then it is told in place of the status
    bool deaf_press = false;         ///< the finger that is down came down in that time
    float width_px = 0.0F;           ///< of the glass as of the last frame; 0 before the first
    float height_px = 0.0F;
    int sized_frames = 0;            ///< frames in which lists bring what is chosen into sight: the glass was turned or sized
};

/// What a frame's widgets share. Lives for one frame.
struct Touch {
    const Theme& theme;
    Metrics metrics;
    const Fonts& fonts;
    Attention& attention;
    Typing typing;
    Probe* probe = nullptr;
    std::string path;
    const TextureOf* texture_of = nullptr;

    [[nodiscard]] float mm(float millimetres) const { return metrics.mm(millimetres); }
    [[nodiscard]] float gap() const { return metrics.mm(gap_mm); }
    [[nodiscard]] float key_side() const { return metrics.mm(key_mm); }
    /// Of a row of words in a list: it grows with the words, though not as fast.
    [[nodiscard]] float row_side() const { return key_side() * std::max(1.0F, 0.4F + 0.6F * metrics.text_scale()); }
    [[nodiscard]] float strong_side() const { return metrics.mm(strong_key_mm); }
    [[nodiscard]] std::string named(std::string_view name) const;
    /// For so long no key but digits answers: a glove that bounces, or a finger that was already on its way, would answer
    /// what it has not read.
    void be_deaf_for(double seconds) {
        attention.deaf_until_s = attention.now_s + seconds;
        // A finger that is down by now came down on what stood there before.
        attention.deaf_press = true;
    }
    [[nodiscard]] bool is_deaf() const { return attention.now_s < attention.deaf_until_s; }
};

/// Seconds in which a second tap is a bounce, and in which eyes have not yet read what came by itself.
inline constexpr double bounce_s = 0.35;
inline constexpr double unread_s = 0.7;
/// And in which nobody has read what he is about to say: three taps in a hurry end before it.
inline constexpr double unheard_s = 0.95;
/// In which the sentence why a key is blocked is read twice.
inline constexpr double why_s = 8.0;

/// Puts a name in front of all widgets made while it lives.
class Scope {
public:
    Scope(Touch& touch, std::string_view name);
    ~Scope();
    Scope(const Scope&) = delete;
    Scope& operator=(const Scope&) = delete;

private:
    Touch& touch_;
    std::size_t length_;
};

/// Starts a frame: reads the keyboard and forgets the last frame's order and probe. Where the glass was turned or sized
/// since, a finger that is down touches nothing any more, whatever came to lie under it.
[[nodiscard]] Touch begin_touch(const Theme& theme, Metrics metrics, const Fonts& fonts,
                                Attention& attention, Probe* probe);
/// Ends it: Tab and Shift-Tab move the focus ring to the next widget in order.
void end_touch(Touch& touch);

enum class KeyState { Ready, Chosen, Blocked };
enum class KeyRole { Plain, Primary, Digit, Answer, Row };

/// What stands on a key. `words` may break into lines and shrinks before it is ever cut off.
struct KeyFace {
    std::string_view words = {};
    std::string_view small = {};  ///< second, smaller line
    KeyRole role = KeyRole::Plain;
    KeyState state = KeyState::Ready;
    Face face = Face::Body;
    std::string_view why = {};  ///< of a blocked key: the sentence told when it is touched; empty tells nothing
};

/// True in the frame in which the finger leaves it, or it has the focus and Enter or Space is hit.
[[nodiscard]] bool key(Touch& touch, std::string_view name, const Rect& at, const KeyFace& face);

/// A key without words of its own: the caller draws on it. `held` seconds while the finger is on.
struct Pressed {
    bool released = false;
    float held_s = 0.0F;
};
[[nodiscard]] Pressed bare_key(Touch& touch, std::string_view name, const Rect& at,
                               const KeyFace& face);

/// One line of text being written; while it is empty the hint stands in it, its first words first: what comes behind a comma
/// is left out where there is no room. True in the frame in which Enter ended it.
[[nodiscard]] bool field(Touch& touch, std::string_view name, const Rect& at, std::string& text,
                         std::string_view hint);

/// Several lines being written, with their own scrolling; Enter begins a new line.
void lines_field(Touch& touch, std::string_view name, const Rect& at, std::string& text);

/// A finger on a plain area, for signatures: where it is while down, in pixels from the corner.
struct Contact {
    float x = 0.0F;
    float y = 0.0F;
};
[[nodiscard]] std::optional<Contact> pad(Touch& touch, std::string_view name, const Rect& at);

/// A plain area that is touched as a whole: where the finger left it, in pixels from the corner.
[[nodiscard]] std::optional<Contact> finger_up(Touch& touch, std::string_view name, const Rect& at);
/// Tells the probe of something drawn inside such an area.
void note_spot(Touch& touch, std::string_view name, const Rect& at);

/// Grounds and rules.
void panel(const Touch& touch, const Rect& at);
void ground(const Touch& touch, const Rect& at, drawing::Colour colour);
void outline(const Touch& touch, const Rect& at, drawing::Colour colour, float width_mm);

/// As large as `at` allows, in its middle, unturned; a grey ground where there is none yet or no glass.
void picture(const Touch& touch, const Rect& at, const SharedPicture& shown);

enum class Across { Left, Middle, Right };
struct LineStyle {
    Face face = Face::Body;
    Across across = Across::Left;
    drawing::Colour colour = {};
};
/// One line, shrunk to the width and height if it must, in the middle of the height. Gives the
/// width drawn.
float line_of_text(Touch& touch, const Rect& at, std::string_view words, const LineStyle& style);

/// Words that break into as many lines as they need.
[[nodiscard]] float prose_height(const Touch& touch, float width, std::string_view words,
                                 Face face);
/// Draws them from the top of `at` and gives the height they took.
float prose(Touch& touch, const Rect& at, std::string_view words, Face face,
            drawing::Colour colour);

/// A part of the window that scrolls by finger, wheel and arrow keys, filled from top to bottom.
class ScrollArea {
public:
    ScrollArea(Touch& touch, std::string_view name, const Rect& at);
    ~ScrollArea();
    ScrollArea(const ScrollArea&) = delete;
    ScrollArea& operator=(const ScrollArea&) = delete;

    /// The next strip of the content, full width.
    [[nodiscard]] Rect take(float height, float gap = 0.0F);
    /// In view, or no more than a page above or below it: far enough for the next key press. What
    /// lies further away need not be drawn.
    [[nodiscard]] bool is_near(const Rect& strip) const;
    void words(std::string_view text, Face face = Face::Body);
    void words(std::string_view text, Face face, drawing::Colour colour);
    void heading(std::string_view text);
    void space(float millimetres);
    /// Back to its beginning, for what is read anew.
    void to_top();
    /// Scrolls so that the strip taken last is in the middle.
    void look_here();
    [[nodiscard]] float width() const { return width_; }

private:
    void mark_more();

    Touch& touch_;
    Scope scope_;
    Rect at_;
    float width_ = 0.0F;
    float top_ = 0.0F;
    float y_ = 0.0F;
};

}  // namespace wm::screens
