#include "screens/record_panel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>

#include "measure/outcome.hpp"

namespace wm::screens {
namespace {

std::string what_of(const desk::ReadingView& reading) {
    std::string words = reading.place.empty() ? reading.text : fmt::format("{}: {}", reading.place, reading.text);
    words += fmt::format(" · {}", measure::in_words(reading.outcome));
    if (reading.undone) return words + " · taken back";
    return reading.superseded ? words + " · a later one stands" : words;
}

std::string who_of(const desk::ReadingView& reading) {
    std::string words = reading.by.empty() ? reading.at : fmt::format("{}, {}", reading.by, reading.at);
    if (!reading.entered_at.empty()) words += fmt::format(", entered {}", reading.entered_at);
    if (!reading.instrument.empty()) words += fmt::format(", with {}", reading.instrument);
    if (!reading.photos.empty()) words += fmt::format(", {} {}", reading.photos.size(), reading.photos.size() == 1 ? "photo" : "photos");
    return words;
}

}  // namespace

void record_panel(Touch& touch, const Rect& at, const desk::CheckView& check, RunDraft& draft) {
    const Scope scope{touch, "record"};
    Rect rest = at;
    if (key(touch, "back", cut_bottom(rest, touch.key_side(), touch.gap()), {.words = "To the check"})) draft.mode = RunMode::Reading;
    ScrollArea area{touch, "entries", rest};
    area.heading(check.title);
    area.words(fmt::format("Now: {}. {}", measure::in_words(check.outcome), check.why));
    area.space(2.0F);
    if (check.readings.empty()) area.words("Nothing was entered here.");
    for (const desk::ReadingView& reading : check.readings) {
        area.words(what_of(reading), Face::Bold);
        if (!reading.done.empty()) area.words("Put right: " + reading.done);
        if (!reading.why.empty()) area.words(reading.why);
        for (const std::string& before : reading.blocked_by)
            area.words(fmt::format("Entered although {} did not conform yet.", before), Face::Small, touch.theme.quiet);
        area.words(who_of(reading), Face::Small, touch.theme.quiet);
        area.space(2.0F);
    }
    const auto by_hand = std::count_if(check.readings.begin(), check.readings.end(), [](const auto& reading) { return reading.time_by_hand; });
    if (by_hand > 0)
        area.words(fmt::format("Times given by hand, not read from a clock: {} of {} here.", by_hand, check.readings.size()), Face::Small,
                   touch.theme.quiet);
}

}  // namespace wm::screens
