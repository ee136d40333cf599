#include "screens/parts_sheet.hpp"

#include <fmt/format.h>

#include "screens/label.hpp"

namespace wm::screens {
namespace {

using desk::PickRow;
using desk::Ticked;
using desk::TickPlace;

/// The list is asked for again: what is ticked may put another sentence under the part.
void say(const std::string& part, const std::string& text, const RunDraft& draft, Requests& requests) {
    requests.emplace_back(desk::Intent{desk::StateFacts{draft.job, {{desk::tick_key(part, draft.tick_place), text}}}});
    requests.emplace_back(AskParts{draft.job});
}

/// There, missing or another; the one that is chosen takes itself back.
void ticks(Touch& touch, const Rect& at, const PickRow& row, RunDraft& draft, Requests& requests) {
    const Scope scope{touch, row.part};
    const auto& tick = draft.tick_place == TickPlace::Store ? row.store : row.van;
    constexpr std::pair<Ticked, std::string_view> answers[] = {{Ticked::There, "There"}, {Ticked::Missing, "Missing"}, {Ticked::Changed, "Another"}};
    const std::vector<Rect> cells = columns(at, 3, touch.gap());
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const auto& [said, words] = answers[i];
        const bool chosen = tick && tick->said == said;
        if (!key(touch, in_words(said), cells[i], {.words = words, .state = chosen ? KeyState::Chosen : KeyState::Ready})) continue;
        // A second tap of the same finger would take it back.
        touch.be_deaf_for(bounce_s);
        if (chosen) {
            say(row.part, "open", draft, requests);
        } else if (said == Ticked::Changed) {
            draft.changed_part = row.part;
            draft.changed_words.clear();
        } else {
            say(row.part, std::string{in_words(said)}, draft, requests);
        }
    }
}

/// What came in place of a part, in words.
void changed_sheet(Touch& touch, const Rect& at, const PickRow& row, RunDraft& draft, Requests& requests) {
    Rect rest = at;
    const std::vector<Rect> deeds = columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 2, touch.gap());
    {
        ScrollArea area{touch, "changed", rest};
        area.heading("What came in its place?");
        area.words(row.amount.empty() ? row.name : row.amount + ", " + row.name);
        (void)field(touch, "words", area.take(touch.key_side(), touch.gap()), draft.changed_words, "as it says on it");
        area.words("It is asked about on the roof, where this part is fitted.", Face::Small);
    }
    const bool ready = !draft.changed_words.empty();
    if (key(touch, "back", deeds[0], {.words = "Back to the list"})) draft.changed_part.clear();
    if (key(touch, "keep", deeds[1],
            {.words = "Keep it", .role = ready ? KeyRole::Primary : KeyRole::Answer, .state = ready ? KeyState::Ready : KeyState::Blocked,
             .why = "First write what it is."})) {
        say(row.part, "changed: " + draft.changed_words, draft, requests);
        draft.changed_part.clear();
    }
}

void choose_place(Touch& touch, const Rect& at, RunDraft& draft) {
    constexpr std::pair<TickPlace, std::string_view> places[] = {{TickPlace::Store, "At the store"}, {TickPlace::Van, "At the van"}};
    const std::vector<Rect> cells = columns(at, 2, touch.gap());
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const auto& [place, words] = places[i];
        if (key(touch, in_words(place), cells[i], {.words = words, .state = place == draft.tick_place ? KeyState::Chosen : KeyState::Ready}))
            draft.tick_place = place;
    }
}

/// The amount stands large on the left, what it is of beside it, and below what is said of it.
void part(Touch& touch, ScrollArea& area, const PickRow& row, RunDraft& draft, Requests& requests) {
    const float amount_w = touch.mm(34.0F) * touch.metrics.text_scale();
    const float words_w = area.width() - amount_w - touch.mm(3.0F);
    std::string below = row.note;
    for (const std::string& line : row.how) below += (below.empty() ? "" : "\n") + line;
    for (const std::string& line : row.in_doubt) below += (below.empty() ? "" : "\n") + ("⚠ " + line);
    for (const std::string& line : row.missing) below += (below.empty() ? "" : "\n") + ("Still to be known: " + line);
    const float head = prose_height(touch, words_w, row.name, Face::Body);
    const float tall = head + (below.empty() ? 0.0F : prose_height(touch, words_w, below, Face::Small));
    Rect strip = area.take(tall, touch.mm(1.5F));
    const Rect answers = area.take(touch.row_side(), touch.mm(4.0F));
    if (area.is_near(answers)) ticks(touch, answers, row, draft, requests);
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
    if (here && !draft.changed_part.empty())
        for (const PickRow& row : world.parts->rows)
            if (row.part == draft.changed_part) return changed_sheet(touch, at, row, draft, requests);
    Rect rest = at;
    const std::vector<Rect> deeds = columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 2, touch.gap());
    choose_place(touch, cut_top(rest, touch.key_side(), touch.gap()), draft);
    {
        ScrollArea area{touch, "list", rest};
        area.heading("From the store");
        if (!here) area.words("The amounts are being worked out.");
        std::string group;
        for (const PickRow& row : here ? world.parts->rows : std::vector<PickRow>{}) {
            if (row.check_title != group) area.words(group = row.check_title, Face::Bold);
            part(touch, area, row, draft, requests);
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
