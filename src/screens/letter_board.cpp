// The letters in the order of the alphabet: gloved hands look for letters one by one.
#include "screens/letter_board.hpp"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <utility>

namespace wm::screens {
namespace {

constexpr std::array<std::string_view, 36> small_letters{
    "a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l", "m", "n", "o", "p", "q", "r",
    "s", "t", "u", "v", "w", "x", "y", "z", "1", "2", "3", "4", "5", "6", "7", "8", "9", "0"};
// In the lowest row, between the capitals and the space.
constexpr std::array<std::string_view, 4> signs{"-", ".", ",", "@"};

int letters_per_row(const Touch& touch, float width) {
    return fitting(width, touch.key_side(), touch.gap()) >= 12 ? 12 : 8;
}

}  // namespace

float letter_board_height(const Touch& touch, float width) {
    const auto rows = static_cast<float>(
        rows_for(static_cast<int>(small_letters.size()), letters_per_row(touch, width)) + 1);
    return rows * touch.key_side() + (rows - 1.0F) * touch.gap();
}

void look_after_board(Attention& attention, BoardDraft& draft) {
    // A board that came up under the finger would move the field away from it.
    const bool lifted = !ImGui::IsMouseDown(0);
    attention.look_frames = std::max(0, attention.look_frames - 1);
    if (!ImGui::GetIO().InputQueueCharacters.empty()) attention.has_keyboard = true;
    const bool done = std::exchange(attention.letters_done, false);
    if ((attention.has_keyboard || done) && std::exchange(draft.by_itself, false)) draft.shown = false;
    if (!attention.letters_wanted || !lifted) return;
    attention.letters_wanted = false;
    if (attention.has_keyboard || draft.shown) return;
    draft.shown = draft.by_itself = true;
    attention.look_frames = 3;
}

void letter_board(Touch& touch, const Rect& at, BoardDraft& draft) {
    const Scope scope{touch, "letters"};
    ground(touch, at.inset(-touch.mm(1.0F)), touch.theme.panel);
    Rect rest = at;
    const Rect bottom = cut_bottom(rest, touch.key_side(), touch.gap());
    const int per_row = letters_per_row(touch, rest.w);
    const int rows = rows_for(static_cast<int>(small_letters.size()), per_row);
    const float height =
        (rest.h - touch.gap() * static_cast<float>(rows - 1)) / static_cast<float>(rows);
    const Grid grid{.area = rest, .per_row = per_row, .height = height, .gap = touch.gap()};
    for (std::size_t i = 0; i < small_letters.size(); ++i) {
        std::string letter{small_letters[i]};
        if (draft.letters == Case::Capital && letter[0] >= 'a' && letter[0] <= 'z') {
            letter[0] = static_cast<char>(letter[0] - 'a' + 'A');
        }
        if (key(touch, small_letters[i], grid.cell(static_cast<int>(i)), {.words = letter})) {
            touch.attention.letters += letter;
            draft.letters = Case::Small;
        }
    }
    const std::vector<Rect> cells = columns(bottom, 8, touch.gap());
    if (key(touch, "capital", cells[0],
            {.words = "ABC",
             .state = draft.letters == Case::Capital ? KeyState::Chosen : KeyState::Ready})) {
        draft.letters = draft.letters == Case::Capital ? Case::Small : Case::Capital;
    }
    if (key(touch, "space", cells[5], {.words = "space"})) touch.attention.letters += ' ';
    if (key(touch, "delete", cells[6], {.words = "⌫"})) touch.attention.letters += '\b';
    if (key(touch, "done", cells[7], {.words = "Done", .role = KeyRole::Primary})) {
        draft.shown = draft.by_itself = false;
        // A second tap would land on the key that comes to light beneath.
        touch.be_deaf_for(bounce_s);
    }
    for (std::size_t i = 0; i < signs.size(); ++i) {
        if (key(touch, signs[i], cells[i + 1], {.words = signs[i]})) touch.attention.letters += signs[i];
    }
}

}  // namespace wm::screens
