#include "screens/pin_pad.hpp"

#include <algorithm>
#include <array>

#include "screens/screen_canvas.hpp"

namespace wm::screens {
namespace {

constexpr std::size_t longest_pin = 200;
constexpr float tall_mm = 5.0F * strong_key_mm + 4.0F * gap_mm;
constexpr float low_mm = 4.0F * strong_key_mm + 3.0F * gap_mm;
constexpr float width_mm = 4.0F * strong_key_mm + 3.0F * gap_mm;

enum class Layout { Tall, Low };

struct PinKey {
    std::string_view name, words;
    int tall_cell, low_cell;
    Face face = Face::Value;
};
constexpr std::array pin_keys{PinKey{"7", "7", 0, 0}, PinKey{"8", "8", 1, 1}, PinKey{"9", "9", 2, 2}, PinKey{"4", "4", 3, 4},
                              PinKey{"5", "5", 4, 5}, PinKey{"6", "6", 5, 6}, PinKey{"1", "1", 6, 8}, PinKey{"2", "2", 7, 9},
                              PinKey{"3", "3", 8, 10}, PinKey{"delete", "⌫", 9, 3, Face::Body}, PinKey{"0", "0", 10, 11},
                              PinKey{"letters", "abc", 11, 7, Face::Body}};

void take_last_away(std::string& pin) {
    while (!pin.empty() && (static_cast<unsigned char>(pin.back()) & 0xC0U) == 0x80U) pin.pop_back();
    if (!pin.empty()) pin.pop_back();
}

bool type_into(std::string& pin, const std::string& letters) {
    for (const char letter : letters) {
        if (letter == '\b') take_last_away(pin);
        else if (pin.size() < longest_pin) pin += letter;
    }
    return !letters.empty();
}

/// One dot for each letter; many of them stand for the rest.
void dots(Touch& touch, const Rect& at, const std::string& pin) {
    ground(touch, at, touch.theme.key);
    outline(touch, at, touch.theme.text, 0.5F);
    const auto letters = std::count_if(pin.begin(), pin.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
    ScreenCanvas canvas{touch, at};
    const drawing::Box sheet = canvas.sheet();
    constexpr double step = 5.0;
    const auto fits = std::max(1, static_cast<int>((sheet.width - 6.0) / step));
    const int shown = std::min(static_cast<int>(letters), fits);
    double x = sheet.width / 2.0 - (shown - 1) * step / 2.0;
    for (int i = 0; i < shown; ++i, x += step) canvas.fill_circle({x, sheet.height / 2.0}, 1.6, drawing::Ink::Text);
}

}  // namespace

Rect cut_pin_pad(Touch& touch, Rect& area, const BoardDraft& board) {
    if (board.shown) return cut_bottom(area, touch.strong_side() + touch.gap() + letter_board_height(touch, area.w), touch.gap());
    const bool side_by_side = area.w > area.h && area.w >= touch.mm(2.0F * width_mm);
    if (!side_by_side) return cut_bottom(area, touch.mm(area.h >= touch.mm(tall_mm) ? tall_mm : low_mm), touch.gap());
    Rect pad = cut_right(area, std::clamp(area.w * 0.45F, touch.mm(width_mm), touch.mm(110.0F)), touch.mm(6.0F));
    const float height = std::min(pad.h, touch.mm(tall_mm * 1.2F));
    return {pad.x, pad.y + (pad.h - height) * 0.4F, pad.w, height};
}

bool pin_pad(Touch& touch, const Rect& at, std::string& pin, BoardDraft& board, const PinFace& face) {
    const Scope scope{touch, "pin"};
    bool changed = type_into(pin, touch.typing.letters);
    if (touch.typing.take(Stroke::Backspace)) {
        take_last_away(pin);
        changed = true;
    }
    if (board.shown && !touch.attention.letters.empty()) {
        changed = type_into(pin, touch.attention.letters) || changed;
        touch.attention.letters.clear();
    }
    // Who types means the PIN with Enter, and not the key where the ring was left.
    if (changed) touch.attention.at.clear();
    Rect rest = at;
    Rect row = cut_top(rest, touch.strong_side(), touch.gap());
    const Rect done = cut_right(row, std::min(row.w * 0.42F, touch.mm(30.0F)), touch.gap());
    dots(touch, row, pin);
    const KeyState state = pin.empty() ? KeyState::Blocked : face.ready;
    const bool by_key = key(touch, "done", done, {.words = face.done, .role = KeyRole::Primary, .state = state, .face = Face::Bold});
    const bool by_enter = state == KeyState::Ready && touch.typing.take(Stroke::Enter);
    if (board.shown) {
        const float height = std::min(rest.h, letter_board_height(touch, rest.w));
        letter_board(touch, cut_top(rest, height), board);
        return by_key || by_enter;
    }
    const Layout layout = at.h < touch.mm(tall_mm) - 1.0F ? Layout::Low : Layout::Tall;
    const float rows = layout == Layout::Low ? 3.0F : 4.0F;
    const Grid grid{.area = rest, .per_row = layout == Layout::Low ? 4 : 3, .height = (rest.h - (rows - 1.0F) * touch.gap()) / rows, .gap = touch.gap()};
    for (const PinKey& one : pin_keys) {
        const int cell = layout == Layout::Low ? one.low_cell : one.tall_cell;
        if (!key(touch, one.name, grid.cell(cell), {.words = one.words, .role = KeyRole::Digit, .face = one.face})) continue;
        if (one.name == "delete") take_last_away(pin);
        else if (one.name == "letters") board.shown = true;
        else pin += one.words;
    }
    return by_key || by_enter;
}

}  // namespace wm::screens
