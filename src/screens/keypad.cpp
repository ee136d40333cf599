// Digits, signs, save.
#include "screens/keypad.hpp"

#include <array>

#include "screens/label.hpp"

namespace wm::screens {
namespace {

constexpr std::size_t longest_value = 14;

bool has_mark(const std::string& value) {
    return value.find_first_of(".,") != std::string::npos;
}

/// Types one sign; a second decimal mark or a minus in the middle is ignored.
bool type(std::string& value, char sign) {
    if (sign == '-') {
        if (!value.empty() && value.front() == '-') {
            value.erase(0, 1);
        } else {
            value.insert(0, "-");
        }
        return true;
    }
    if (value.size() >= longest_value) return false;
    if ((sign == '.' || sign == ',') && has_mark(value)) return false;
    value += sign;
    return true;
}

bool type_from_keyboard(Touch& touch, std::string& value) {
    bool changed = false;
    for (const char sign : touch.typing.letters) {
        const bool digit = sign >= '0' && sign <= '9';
        if (digit || sign == '.' || sign == ',' || sign == '-') changed |= type(value, sign);
    }
    if (touch.typing.take(Stroke::Backspace) && !value.empty()) {
        value.pop_back();
        changed = true;
    }
    return changed;
}

/// Where a key stands in the square keypad and in the low one.
struct SignKey {
    std::string_view name;
    int square_cell;
    int low_cell;
    char sign;
};

constexpr std::array sign_keys{
    SignKey{"7", 0, 0, '7'},   SignKey{"8", 1, 1, '8'},  SignKey{"9", 2, 2, '9'},
    SignKey{"4", 4, 5, '4'},   SignKey{"5", 5, 6, '5'},  SignKey{"6", 6, 7, '6'},
    SignKey{"1", 8, 10, '1'},  SignKey{"2", 9, 11, '2'}, SignKey{"3", 10, 12, '3'},
    SignKey{"0", 12, 13, '0'}, SignKey{".", 13, 8, '.'}, SignKey{",", 14, 9, ','},
};

enum class Layout { Square, Low };

Rect save_cell(const Grid& grid, Layout layout, const Rect& at) {
    Rect save = grid.cell(layout == Layout::Square ? 11 : 14);
    save.h = at.bottom() - save.y;
    return save;
}

}  // namespace

Keyed keypad(Touch& touch, const Rect& at, std::string& value, const KeypadFace& face) {
    const Scope scope{touch, "keypad"};
    bool changed = type_from_keyboard(touch, value);
    // Who types a value means it with Enter, and not the key where the ring was left.
    if (changed) touch.attention.at.clear();
    const Layout layout =
        at.h < touch.mm(keypad_side_mm) - 1.0F && at.w >= touch.mm(low_keypad_width_mm) - 1.0F
            ? Layout::Low
            : Layout::Square;
    const int rows = layout == Layout::Square ? 4 : 3;
    const Grid grid{
        .area = at,
        .per_row = layout == Layout::Square ? 4 : 5,
        .height = (at.h - touch.gap() * static_cast<float>(rows - 1)) / static_cast<float>(rows),
        .gap = touch.gap()};
    for (const SignKey& one : sign_keys) {
        const Rect cell = grid.cell(layout == Layout::Square ? one.square_cell : one.low_cell);
        if (key(touch, one.name, cell,
                {.words = one.name, .role = KeyRole::Digit, .face = Face::Value})) {
            changed |= type(value, one.sign);
        }
    }
    if (key(touch, "delete", grid.cell(3), {.words = "⌫", .role = KeyRole::Digit}) &&
        !value.empty()) {
        value.pop_back();
        changed = true;
    }
    if (key(touch, "sign", grid.cell(layout == Layout::Square ? 7 : 4),
            {.words = "+ / −", .role = KeyRole::Digit})) {
        changed |= type(value, '-');
    }
    const Rect save = save_cell(grid, layout, at);
    const bool by_key =
        key(touch, "save", save,
            {.words = face.save_words,
             .small = face.save_small,
             .role = face.save == KeyState::Ready ? KeyRole::Primary : KeyRole::Answer,
             .state = face.save,
             .face = Face::Bold,
             .why = value.empty() || value == "-" ? "No value is typed yet." : ""});
    const bool by_enter = face.save != KeyState::Blocked && touch.typing.take(Stroke::Enter) && !touch.is_deaf();
    if (by_key || by_enter) return Keyed::Save;
    return changed ? Keyed::Changed : Keyed::Nothing;
}

namespace {

constexpr float above_line_mm = small_em_mm * 1.17F;
constexpr float box_edge_mm = 1.5F;
constexpr float box_side_mm = box_edge_mm + 1.0F;

bool needs_two_lines(const Touch& touch, float width, std::string_view above) {
    return !above.empty() && !fits_plain(touch, {0.0F, 0.0F, width, touch.mm(above_line_mm)}, above, Face::Small);
}

/// One line, or two where the value keeps its size all the same.
void words_above(Touch& touch, Rect& inside, std::string_view above) {
    const float line = touch.mm(above_line_mm);
    const bool two = needs_two_lines(touch, inside.w, above) && inside.h - 2.0F * line >= touch.mm(12.0F);
    if (!two) {
        line_of_text(touch, cut_top(inside, line), above, {.face = Face::Small, .colour = touch.theme.quiet});
        return;
    }
    if (touch.probe != nullptr) touch.probe->texts.emplace_back(above);
    draw_label(touch, touch.path, cut_top(inside, 2.0F * line), above, {.face = Face::Small, .colour = touch.theme.quiet});
}

}  // namespace

float value_box_height(const Touch& touch, float width, const ValueFace& face) {
    const float beside = face.other_units ? touch.strong_side() + touch.gap() : 0.0F;
    const bool two = needs_two_lines(touch, width - beside - touch.mm(2.0F * box_side_mm), face.above);
    return touch.mm(two ? 21.0F + above_line_mm : 21.0F);
}

bool value_box(Touch& touch, const Rect& whole, const ValueFace& face) {
    Rect at = whole;
    const Rect switch_at = face.other_units ? cut_right(at, touch.strong_side(), touch.gap()) : Rect{};
    ground(touch, at, touch.theme.key);
    outline(touch, at, touch.theme.text, 0.5F);
    Rect inside = at.inset(touch.mm(box_edge_mm));
    inside.x = at.x + touch.mm(box_side_mm);
    inside.w = at.w - touch.mm(2.0F * box_side_mm);
    if (!face.above.empty() && inside.h > touch.mm(16.0F)) words_above(touch, inside, face.above);
    if (!face.other_units) {
        const Rect unit = cut_right(inside, inside.w * 0.26F, touch.mm(1.5F));
        line_of_text(touch, unit, face.unit, {.face = Face::Bold, .colour = touch.theme.text});
    }
    const std::string_view shown = face.value.empty() ? std::string_view{"–"} : face.value;
    draw_label(touch, touch.named("value"), inside, shown,
               {.face = Face::Value, .across = Across::Right, .colour = touch.theme.text});
    return face.other_units &&
           key(touch, "unit", switch_at, {.words = face.unit, .small = "other", .face = Face::Bold});
}

}  // namespace wm::screens
