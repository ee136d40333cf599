#include "screens/parts_sheet.hpp"

#include <fmt/format.h>

#include "screens/label.hpp"

namespace wm::screens {
namespace {

using desk::PickRow;

/// The amount stands large on the left, what it is of beside it.
void part(Touch& touch, ScrollArea& area, const PickRow& row) {
    const float amount_w = touch.mm(34.0F) * touch.metrics.text_scale();
    const float words_w = area.width() - amount_w - touch.mm(3.0F);
    std::string below = row.note;
    for (const std::string& line : row.how) below += (below.empty() ? "" : "\n") + line;
    for (const std::string& line : row.missing) below += (below.empty() ? "" : "\n") + ("Still to be known: " + line);
    const float head = prose_height(touch, words_w, row.name, Face::Body);
    const float tall = head + (below.empty() ? 0.0F : prose_height(touch, words_w, below, Face::Small));
    Rect strip = area.take(tall, touch.mm(3.0F));
    if (!area.is_near(strip)) return;
    const Rect amount = cut_left(strip, amount_w, touch.mm(3.0F));
    draw_label(touch, touch.named(row.part), {amount.x, amount.y, amount.w, std::min(amount.h, em_px(Face::Body, touch.metrics) * 1.3F)},
               row.amount.empty() ? "?" : row.amount, {.face = Face::Bold, .across = Across::Right, .colour = touch.theme.text});
    prose(touch, strip, row.name, Face::Body, touch.theme.text);
    strip.y += head;
    if (!below.empty()) prose(touch, strip, below, Face::Small, touch.theme.quiet);
}

}  // namespace

void parts_sheet(Touch& touch, const Rect& at, const World& world, RunDraft& draft, Requests& requests) {
    const Scope scope{touch, "parts"};
    const bool here = world.parts && world.parts->job == draft.job;
    if (!draft.list_asked) {
        draft.list_asked = true;
        requests.emplace_back(AskParts{draft.job});
    }
    Rect rest = at;
    const std::vector<Rect> deeds = columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 2, touch.gap());
    {
        ScrollArea area{touch, "list", rest};
        area.heading("From the store");
        if (!here) area.words("The amounts are being worked out.");
        std::string group;
        for (const PickRow& row : here ? world.parts->rows : std::vector<PickRow>{}) {
            if (row.check_title != group) area.words(group = row.check_title, Face::Bold);
            part(touch, area, row);
        }
        if (here && !world.parts->instruments.empty()) area.words("Instruments, in date on the day", Face::Bold);
        for (const auto& row : here ? world.parts->instruments : std::vector<desk::PickInstrument>{})
            area.words(fmt::format("{}: {}", row.type, row.registered.empty() ? "none is registered for this job" : row.registered.front()));
    }
    if (key(touch, "back", deeds[0], {.words = "Back"})) {
        draft.mode = RunMode::Reading;
        draft.list_asked = false;
    }
    if (key(touch, "sheet", deeds[1],
            {.words = "Save the sheet to tick", .small = "PDF in the outbox folder", .role = here ? KeyRole::Primary : KeyRole::Answer,
             .state = here ? KeyState::Ready : KeyState::Blocked}))
        requests.emplace_back(SaveParts{draft.job});
}

}  // namespace wm::screens
