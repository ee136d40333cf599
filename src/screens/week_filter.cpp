#include "screens/week_filter.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace wm::screens {
namespace {

using desk::WeekChoiceView;

std::string words_of(const std::vector<WeekChoiceView>& choices, const std::string& name) {
    const auto found = std::find_if(choices.begin(), choices.end(), [&](const WeekChoiceView& one) { return one.name == name; });
    return found == choices.end() ? name : found->words;
}

// Pressed again, a choice is taken back.
void part(Touch& touch, ScrollArea& area, std::string_view title, const std::vector<WeekChoiceView>& choices, std::string& chosen,
          float wide_mm) {
    if (choices.empty()) return;
    const Scope scope{touch, title};
    area.heading(title);
    if (const auto pressed = choice_keys(touch, area, choices, chosen, wide_mm))
        chosen = choices[*pressed].name == chosen ? "" : choices[*pressed].name;
}

}  // namespace

std::optional<std::size_t> choice_keys(Touch& touch, ScrollArea& area, const std::vector<WeekChoiceView>& choices, const std::string& chosen,
                                       float wide_mm) {
    std::optional<std::size_t> pressed;
    const int count = static_cast<int>(choices.size());
    Grid grid{.area = {}, .per_row = fitting(area.width(), touch.mm(wide_mm), touch.gap()), .height = touch.key_side(), .gap = touch.gap()};
    grid.area = area.take(grid.total_height(count), touch.gap());
    for (int i = 0; i < count; ++i) {
        const auto& one = choices[static_cast<std::size_t>(i)];
        if (!area.is_near(grid.cell(i))) continue;
        if (key(touch, one.name, grid.cell(i),
                {.words = one.words, .state = one.name == chosen ? KeyState::Chosen : KeyState::Ready, .face = Face::Small}))
            pressed = static_cast<std::size_t>(i);
    }
    return pressed;
}

std::string filter_in_words(const desk::WeekView& week) {
    const auto& filter = week.filter;
    std::vector<std::string> parts;
    if (!filter.crew.empty()) parts.push_back("crew " + filter.crew);
    if (!filter.check.empty()) parts.push_back(words_of(week.choices.checks, filter.check));
    if (!filter.roof.empty()) parts.push_back("roof " + filter.roof);
    if (!filter.kind.empty()) parts.push_back(filter.kind);
    if (!filter.batch.empty()) parts.push_back(filter.batch);
    if (!filter.instrument.empty()) parts.push_back("tool " + filter.instrument);
    if (!filter.street.empty()) parts.push_back(filter.street);
    if (filter.weeks > 1) parts.push_back(fmt::format("{} weeks", filter.weeks));
    return fmt::format("{}", fmt::join(parts, ", "));
}

void filter_sheet(Touch& touch, const Rect& at, const desk::WeekView& week, FilterDraft& draft, Requests& requests) {
    const Scope scope{touch, "filter"};
    panel(touch, at);
    Rect rest = at.inset(touch.mm(2.0F));
    const auto deeds = columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 3, touch.gap());
    {
        ScrollArea area{touch, "choices", rest};
        area.words("Only what fits all of these is counted and listed. Findings stay compared with all jobs.", Face::Small);
        std::vector<WeekChoiceView> spans;
        for (const int weeks : {1, 4, 13, 26}) spans.push_back({std::to_string(weeks), weeks == 1 ? "this week" : fmt::format("{} weeks", weeks)});
        {
            const Scope of_weeks{touch, "Weeks"};
            area.heading("Weeks up to this one");
            if (const auto pressed = choice_keys(touch, area, spans, std::to_string(draft.filter.weeks), 28.0F))
                draft.filter.weeks = std::stoi(spans[*pressed].name);
        }
        part(touch, area, "Crew", week.choices.crews, draft.filter.crew, 40.0F);
        part(touch, area, "Roof", week.choices.roofs, draft.filter.roof, 28.0F);
        part(touch, area, "Kind of job", week.choices.kinds, draft.filter.kind, 34.0F);
        part(touch, area, "Street", week.choices.streets, draft.filter.street, 40.0F);
        part(touch, area, "Tool", week.choices.instruments, draft.filter.instrument, 24.0F);
        part(touch, area, "Batch of parts", week.choices.batches, draft.filter.batch, 46.0F);
        part(touch, area, "Check", week.choices.checks, draft.filter.check, 46.0F);
    }
    if (key(touch, "close", deeds[0], {.words = "Close"})) draft.is_open = false;
    if (key(touch, "all", deeds[1], {.words = "All jobs"})) {
        requests.emplace_back(AskWeek{week.week, {}});
        draft = {};
    }
    if (key(touch, "show", deeds[2], {.words = "Show", .role = KeyRole::Primary})) {
        requests.emplace_back(AskWeek{week.week, draft.filter});
        draft.is_open = false;
    }
}

}  // namespace wm::screens
