// Drawing on top, words below, one key back.
#include "screens/help_panel.hpp"

#include <algorithm>

#include "figures/sketch.hpp"
#include "screens/screen_canvas.hpp"

namespace wm::screens {
namespace {

void sketch(Touch& touch, ScrollArea& area, std::string_view check) {
    const auto drawn = figures::sketch_of(check);
    if (!drawn) return;
    const float width = std::min(area.width(), touch.mm(150.0F));
    const Rect at = area.take(width * 7.0F / 12.0F, touch.gap());
    panel(touch, at);
    ScreenCanvas canvas{touch, at};
    const drawing::Box sheet = canvas.sheet();
    figures::draw_sketch(canvas, {sheet.left + 1.0, sheet.top + 1.0, sheet.width - 2.0, sheet.height - 2.0}, *drawn);
}

}  // namespace

void help_panel(Touch& touch, const Rect& at, const desk::CheckView& check, RunDraft& draft) {
    const Scope scope{touch, "help"};
    Rect rest = at;
    if (key(touch, "back", cut_bottom(rest, touch.key_side(), touch.gap()), {.words = "Back to the check"}))
        draft.mode = RunMode::Reading;
    ScrollArea area{touch, "words", rest};
    area.heading(check.title);
    sketch(touch, area, check.id);
    const auto told = [&](std::string_view title, const std::string& words) {
        if (words.empty()) return;
        area.words(title, Face::Bold);
        area.words(words);
        area.space(1.5F);
    };
    told("How it is measured", check.how);
    told("Why it matters", check.why_it_matters);
    told("What often goes wrong", check.pitfall);
    told("If it does not conform", check.on_fail);
    told("Kept as proof", check.evidence);
    for (const std::string& line : check.limits.how) area.words(line, Face::Small, touch.theme.quiet);
    for (const std::string& line : check.sources) area.words("Source: " + line, Face::Small, touch.theme.quiet);
}

}  // namespace wm::screens
