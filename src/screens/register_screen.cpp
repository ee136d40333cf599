// A search field, a row of column heads, the rows, and the history of the row that was touched.
#include "screens/register_screen.hpp"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "screens/label.hpp"

namespace wm::screens {
namespace {

using desk::Order;
using desk::RegisterRow;
using desk::RegisterTable;

/// As many columns, from the left, as can be read at this width; the rest stand in the opened row.
std::size_t columns_that_fit(const Touch& touch, float width, const RegisterTable& table) {
    const int fit = fitting(width, touch.mm(32.0F), touch.gap());
    return std::clamp<std::size_t>(static_cast<std::size_t>(fit), 1, table.columns.size());
}

void heads(Touch& touch, const Rect& at, const RegisterTable& table, std::size_t count, RegisterDraft& draft) {
    const Scope scope{touch, "by"};
    const std::vector<Rect> cells = columns(at, static_cast<int>(count), touch.gap());
    for (std::size_t i = 0; i < count; ++i) {
        const bool chosen = draft.column == i;
        const std::string words = table.columns[i] + (!chosen ? "" : draft.order == Order::Rising ? " ▲" : " ▼");
        if (key(touch, table.columns[i], cells[i],
                {.words = words, .state = chosen ? KeyState::Chosen : KeyState::Ready, .face = Face::Small})) {
            draft.order = chosen && draft.order == Order::Rising ? Order::Falling : Order::Rising;
            draft.column = i;
        }
    }
}

void row_key(Touch& touch, ScrollArea& area, const RegisterRow& row, std::size_t count, RegisterDraft& draft) {
    const Rect strip = area.take(touch.row_side(), touch.gap());
    if (!area.is_near(strip)) return;
    const bool open = draft.opened == row.cells.front();
    const KeyState state = open ? KeyState::Chosen : KeyState::Ready;
    if (bare_key(touch, row.cells.front(), strip, {.words = row.cells.front(), .role = KeyRole::Row, .state = state}).released)
        draft.opened = open ? std::string{} : row.cells.front();
    const auto letters = open ? touch.theme.chosen_text : touch.theme.text;
    const std::vector<Rect> cells = columns(strip, static_cast<int>(count), touch.gap());
    for (std::size_t i = 0; i < count; ++i)
        draw_label(touch, touch.named(row.cells.front()), cells[i].inset(touch.mm(1.0F)), row.cells[i],
                   {.face = i == 0 ? Face::Body : Face::Small, .colour = letters});
}

void history(Touch& touch, ScrollArea& area, const RegisterTable& table, const RegisterRow& row, std::size_t shown) {
    for (std::size_t i = shown; i < table.columns.size(); ++i)
        if (!row.cells[i].empty()) area.words(fmt::format("{}: {}", table.columns[i], row.cells[i]), Face::Small, touch.theme.text);
    for (const std::string& line : row.history) area.words("• " + line, Face::Small, touch.theme.text);
    if (row.history.empty()) area.words("Nothing more is known.", Face::Small, touch.theme.quiet);
    area.space(2.0F);
}

RegisterTable chosen(const RegisterTable& all, const RegisterDraft& draft) {
    RegisterTable table = all;
    desk::keep_only(table, draft.search);
    desk::sort_by(table, draft.column, draft.order);
    return table;
}

}  // namespace

void register_screen(Touch& touch, const Rect& at, const World& world, RegisterDraft& draft, Requests& requests) {
    const Scope scope{touch, "register"};
    if (!draft.shown) return;
    if (!draft.workshop.list.empty()) return workshop_sheet(touch, at, world, draft.workshop, requests);
    if (!world.registers || world.registers->first != *draft.shown) {
        prose(touch, at, "The jobs are being read.", Face::Body, touch.theme.text);
        return;
    }
    const RegisterTable table = chosen(world.registers->second, draft);
    Rect rest = at;
    Rect head = cut_top(rest, touch.key_side(), touch.gap());
    if (key(touch, "copy", cut_right(head, touch.mm(44.0F), touch.gap()),
            {.words = draft.copied ? "Copied" : "Copy as CSV", .small = fmt::format("{} rows", table.rows.size())})) {
        ImGui::SetClipboardText(desk::csv_of(table).c_str());
        draft.copied = true;
    }
    if (key(touch, "again", cut_right(head, touch.mm(30.0F), touch.gap()), {.words = "Read again", .face = Face::Small})) {
        draft.copied = false;
        requests.emplace_back(AskRegister{*draft.shown});
    }
    (void)field(touch, "search", head, draft.search, "Search all columns");
    const std::size_t count = columns_that_fit(touch, rest.w, table);
    heads(touch, cut_top(rest, touch.key_side(), touch.gap()), table, count, draft);
    ScrollArea area{touch, "rows", rest};
    for (const RegisterRow& row : table.rows) {
        row_key(touch, area, row, count, draft);
        if (draft.opened != row.cells.front()) continue;
        if (draft.shown == desk::Register::Checklists &&
            key(touch, "workshop", area.take(touch.key_side(), touch.gap()), {.words = "Change it in the workshop", .face = Face::Small}))
            draft.workshop = workshop_for(row.cells.front(), requests);
        history(touch, area, table, row, count);
    }
    if (table.rows.empty()) area.words(draft.search.empty() ? "Nothing is registered yet." : "No row has all of these words.");
}

}  // namespace wm::screens
