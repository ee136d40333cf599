#include "screens/action_sheet.hpp"

#include <fmt/format.h>

#include "screens/more_panel.hpp"

namespace wm::screens {
namespace {

/// Keys side by side; gives the place of the one that was pressed.
std::optional<std::size_t> offered(Touch& touch, ScrollArea& area, const std::vector<std::string>& words, float wide_mm,
                                   const std::string& chosen) {
    std::optional<std::size_t> pressed;
    const int count = static_cast<int>(words.size());
    Grid grid{.area = {}, .per_row = fitting(area.width(), touch.mm(wide_mm), touch.gap()), .height = touch.key_side(), .gap = touch.gap()};
    grid.area = area.take(grid.total_height(count), touch.gap());
    for (int i = 0; i < count; ++i) {
        const auto& one = words[static_cast<std::size_t>(i)];
        if (key(touch, one, grid.cell(i), {.words = one, .state = one == chosen ? KeyState::Chosen : KeyState::Ready, .face = Face::Small}))
            pressed = static_cast<std::size_t>(i);
    }
    return pressed;
}

void write_line(Touch& touch, ScrollArea& area, std::string_view name, std::string& value, std::string_view hint) {
    (void)field(touch, name, area.take(touch.key_side(), touch.gap()), value, hint);
}

}  // namespace

ActionDraft action_for(const desk::FindingView& finding, const std::string& week) {
    return {.is_open = true,
            .sentence = finding.sentence,
            .intent = {.finding = finding.kind, .subject = finding.subject, .check = finding.check, .week = week,
                       .cause = "", .cause_words = "", .remedy = "", .owner = "", .due = "", .follows = "", .by = ""}};
}

void action_sheet(Touch& touch, const Rect& at, const World& world, ActionDraft& draft, Requests& requests) {
    const Scope scope{touch, "action"};
    panel(touch, at);
    Rect rest = at.inset(touch.mm(2.0F));
    const auto deeds = columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 2, touch.gap());
    auto& intent = draft.intent;
    {
        ScrollArea area{touch, "fields", rest};
        area.heading("Remove the cause");
        area.words(draft.sentence, Face::Small);
        area.words("Hear who is concerned first. Why does it happen?");
        std::vector<std::string> meanings;
        std::string chosen;
        if (world.week)
            for (const auto& cause : world.week->causes) {
                meanings.push_back(cause.meaning);
                if (cause.cause == intent.cause) chosen = cause.meaning;
            }
        if (const auto pressed = offered(touch, area, meanings, 46.0F, chosen)) intent.cause = world.week->causes[*pressed].cause;
        write_line(touch, area, "cause", intent.cause_words, "the cause in your own words");
        write_line(touch, area, "remedy", intent.remedy, "what is to be done");
        write_line(touch, area, "owner", intent.owner, "who sees to it");
        std::vector<std::string> days;
        for (const int offset : {7, 14, 30}) days.push_back(day_after(world.moment.now, offset));
        if (const auto pressed = offered(touch, area, days, 30.0F, intent.due)) intent.due = days[*pressed];
        write_line(touch, area, "due", intent.due, "done by, for example 2027-03-18");
        area.words("30 and 90 days after it is done the week compares before and after. It stays open until then.", Face::Small);
    }
    const bool complete = !intent.cause.empty() && !intent.cause_words.empty() && !intent.remedy.empty() &&
                          !intent.owner.empty() && !intent.due.empty();
    if (key(touch, "decide", deeds[1],
            {.words = "Decide", .role = complete ? KeyRole::Primary : KeyRole::Answer,
             .state = complete ? KeyState::Ready : KeyState::Blocked,
             .why = "Wanted are cause and its words, what is done, by whom and by when."})) {
        requests.emplace_back(desk::Intent{intent});
        draft = {};
    }
    if (key(touch, "back", deeds[0], {.words = "Back"})) draft = {};
}

void action_row(Touch& touch, ScrollArea& area, const desk::ActionView& action, Requests& requests) {
    const Scope scope{touch, action.action};
    const std::string about = action.title.empty() ? action.finding : action.title;
    std::string words = fmt::format("{} days · {}{}{}: {}. {}: {}, due {}.", action.age_days, about,
                                    action.subject.empty() ? "" : " of ", action.subject, action.state, action.owner,
                                    action.remedy, action.due);
    // The last effect that can be told is the one that counts.
    const desk::EffectView* effect = nullptr;
    for (const auto& one : action.effects)
        if (one.is_due || one.recorded) effect = &one;
    if (effect != nullptr) words += fmt::format(" After {} days: {}. {}", effect->after_days, effect->verdict, effect->sentence);
    else if (!action.effects.empty()) words += fmt::format(" The effect is told from {} on.", action.effects.front().told_on);
    const float inner = area.width() - touch.mm(5.0F);
    const Rect at = area.take(prose_height(touch, inner, words, Face::Body) + touch.mm(4.0F), touch.gap());
    panel(touch, at);
    prose(touch, {at.x + touch.mm(2.5F), at.y + touch.mm(2.0F), inner, at.h}, words, Face::Body, touch.theme.text);
    if (action.is_closed) return;
    const Rect deed = area.take(touch.key_side(), touch.gap());
    if (action.done_on.empty()) {
        if (key(touch, "done", deed, {.words = "It is done, today"}))
            requests.emplace_back(desk::Intent{desk::CarryOutAction{action.action, "", "", ""}});
    } else if (effect != nullptr && !effect->recorded) {
        if (key(touch, "check", deed, {.words = fmt::format("Put on record: {}", effect->verdict)}))
            requests.emplace_back(desk::Intent{desk::CheckEffect{action.action, effect->after_days, ""}});
    }
}

}  // namespace wm::screens
