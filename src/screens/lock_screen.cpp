#include "screens/lock_screen.hpp"

#include <fmt/format.h>

#include "screens/pin_pad.hpp"
#include "screens/series_panel.hpp"

namespace wm::screens {
namespace {

void title(Touch& touch, const Rect& at, const World& world, const LockDraft& draft) {
    const bool begun = !world.lock.person.empty() || draft.unlocked_seen > 0;
    line_of_text(touch, at, begun ? "Locked. Work half done is kept." : "Who is here?",
                 {.face = Face::Bold, .colour = touch.theme.text});
}

void answer_box(Touch& touch, ScrollArea& area, const World& world, const LockDraft& draft) {
    if (!draft.name.empty())
        if (const auto wait = seconds_to_wait(world, draft.name); wait > 0)
            return area.words(fmt::format("{} may try again in {}. Nothing is deleted by wrong PINs; another person can open it "
                                          "meanwhile.",
                                          draft.name, clock_words(wait)),
                              Face::Body, touch.theme.text);
    if (draft.sent) return area.words("One moment …");
    if (!world.lock.answer.empty()) area.words(world.lock.answer, Face::Body, touch.theme.text);
    else area.words(draft.name.empty() ? std::string{"Choose your name, then type your PIN."} : fmt::format("Type the PIN of {}.", draft.name));
}

void people(Touch& touch, const Rect& at, const World& world, LockDraft& draft) {
    ScrollArea area{touch, "people", at};
    answer_box(touch, area, world, draft);
    area.space(2.0F);
    for (const PersonLock& person : world.lock.people) {
        const bool chosen = person.name == draft.name;
        if (!key(touch, person.name, area.take(touch.key_side(), touch.gap()),
                 {.words = person.name, .small = person.role, .role = KeyRole::Row, .state = chosen ? KeyState::Chosen : KeyState::Ready}))
            continue;
        // Another person's digits are nobody's business.
        if (!chosen) draft.pin.clear();
        draft.name = person.name;
    }
}

}  // namespace

void lock_screen(Touch& touch, const Rect& display, const World& world, const std::vector<SeriesRun>& series, LockDraft& draft,
                 Requests& requests) {
    const Scope scope{touch, "lock"};
    const bool narrow = display.w < touch.mm(narrow_mm);
    Rect rest = display.inset(touch.mm(narrow ? narrow_edge_mm : edge_mm));
    const Rect pad = cut_pin_pad(touch, rest, draft.board);
    title(touch, cut_top(rest, touch.mm(10.0F), touch.gap()), world, draft);
    if (!series.empty()) {
        // Where the countdown stands; opening the check waits for the PIN.
        const Rect strip = cut_top(rest, touch.key_side(), touch.gap());
        static_cast<void>(series_strip(touch, strip, series, world.moment));
    }
    people(touch, rest, world, draft);
    const bool waits = draft.name.empty() || draft.sent || seconds_to_wait(world, draft.name) > 0;
    const PinFace face{.done = "Open", .ready = waits ? KeyState::Blocked : KeyState::Ready};
    if (!pin_pad(touch, pad, draft.pin, draft.board, face)) return;
    if (waits) return;
    requests.emplace_back(Unlock{draft.name, draft.pin});
    draft.pin.assign(draft.pin.size(), '\0');
    draft.pin.clear();
    draft.sent = true;
}

}  // namespace wm::screens
