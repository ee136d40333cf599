// Marks and rows with marks.
#include "screens/marks.hpp"

#include <algorithm>

#include "figures/outcome_mark.hpp"
#include "screens/label.hpp"
#include "screens/screen_canvas.hpp"

namespace wm::screens {

using measure::Outcome;

void outcome_shape(const Touch& touch, const Rect& at, Outcome outcome) {
    ScreenCanvas canvas{touch, at};
    const drawing::Box sheet = canvas.sheet();
    figures::draw_outcome_mark(canvas, outcome, sheet.middle(),
                               0.86 * std::min(sheet.width, sheet.height));
}

void outcome_words(Touch& touch, const Rect& at, Outcome outcome, Face face) {
    Rect rest = at;
    outcome_shape(touch, cut_left(rest, std::min(at.h, touch.mm(12.0F)), touch.mm(1.5F)), outcome);
    line_of_text(touch, rest, measure::in_words(outcome),
                 {.face = face, .colour = touch.theme.ink(figures::ink_of(outcome))});
}

bool marked_row(Touch& touch, std::string_view name, const Rect& at, const MarkedRow& row) {
    const Pressed pressed =
        bare_key(touch, name, at, {.words = row.words, .role = KeyRole::Row, .state = row.state});
    const bool dark = row.state == KeyState::Chosen;
    const auto letters = dark ? touch.theme.chosen_text : touch.theme.text;
    const auto quiet = dark ? touch.theme.chosen_text : touch.theme.quiet;
    Rect inside = at.inset(touch.mm(0.6F));
    inside.w -= touch.mm(1.4F);
    const Rect shape = cut_left(inside, std::min(inside.h, touch.mm(10.0F)), touch.mm(2.0F));
    if (dark) ground(touch, shape, touch.theme.paper);
    outcome_shape(touch, shape.inset(touch.mm(0.5F)), row.outcome);
    const Rect word = cut_right(inside, inside.w * 0.24F, touch.mm(2.0F));
    draw_label(touch, touch.named(name), word, measure::in_words(row.outcome),
               {.face = Face::Small, .across = Across::Right, .colour = letters});
    if (!row.small.empty()) {
        draw_label(touch, touch.named(name), cut_bottom(inside, inside.h * 0.42F), row.small,
                   {.face = Face::Small, .colour = quiet});
    }
    draw_label(touch, touch.named(name), inside, row.words,
               {.face = Face::Body, .colour = letters});
    return pressed.released;
}

std::string severity_words(std::string_view letter) {
    if (letter == "H") return "H: can hurt someone";
    if (letter == "D") return "D: can damage property";
    if (letter == "P") return "P: costs performance";
    if (letter == "R") return "R: paperwork";
    return std::string{letter};
}

std::string severity_word(std::string_view letter) {
    if (letter == "H") return "H: hurts";
    if (letter == "D") return "D: damages";
    if (letter == "P") return "P: saves less";
    if (letter == "R") return "R: paperwork";
    return std::string{letter};
}

}  // namespace wm::screens
