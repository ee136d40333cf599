#include "screens/take_over_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "screens/label.hpp"
#include "screens/marks.hpp"

namespace wm::screens {

bool take_over_sheet(Touch& touch, const Rect& at, const World& world, std::string& only_looked_at, Requests& requests) {
    if (!world.job || world.job->with.empty()) return false;
    const std::string& job = world.job->row.job;
    // Another person at work is asked anew.
    const std::string looked = fmt::format("{} by {}", job, world.lock.person);
    if (only_looked_at == looked) return false;
    const Scope scope{touch, "take over"};
    Rect rest = at;
    const Rect keys = cut_bottom(rest, std::min(touch.strong_side() * 1.2F, rest.h * 0.4F), touch.gap());
    {
        ScrollArea area{touch, "words", rest};
        area.heading(fmt::format("This job is with {}", world.job->with));
        area.words(fmt::format("Job {} was begun by another. To enter anything in it, take it over: who took it, from whom and "
                               "when stay on record and in the report.",
                               job));
        for (const desk::TakenOverView& taken : world.job->taken_over)
            area.words(fmt::format("{} took it over from {} on {}.", taken.by, taken.from, taken.at.substr(0, 10)), Face::Small,
                       touch.theme.quiet);
        area.words("Ask first what is begun and not finished: a line under pressure, power not locked off, an open roof.");
    }
    const std::vector<Rect> cells = columns(keys, 2, touch.gap());
    if (key(touch, "only look", cells[0], {.words = "Only look", .small = "nothing is entered", .role = KeyRole::Answer})) only_looked_at = looked;
    const KeyState state = world.saving ? KeyState::Blocked : KeyState::Ready;
    if (key(touch, "take", cells[1], {.words = "Take it over", .small = world.lock.person, .role = KeyRole::Answer, .state = state, .face = Face::Bold, .why = "Something is being saved: a moment."}))
        requests.emplace_back(desk::Intent{desk::TakeOverJob{job, ""}});
    return true;
}

void only_looked_at_strip(Touch& touch, const Rect& at, const World& world, std::string& only_looked_at) {
    const Scope scope{touch, "only looked at"};
    Rect rest = at;
    if (key(touch, "take", cut_right(rest, std::min(touch.mm(45.0F), rest.w * 0.4F), touch.gap()), {.words = "Take it over", .face = Face::Small}))
        only_looked_at.clear();
    ground(touch, rest, touch.theme.warn);
    outline(touch, rest, touch.theme.warn_text, 0.4F);
    draw_label(touch, touch.named("words"), rest.inset(touch.mm(1.5F)), fmt::format("Only looked at, nothing is entered: this job is with {}.", world.job->with),
               {.face = Face::Body, .colour = touch.theme.warn_text});
}

}  // namespace wm::screens
