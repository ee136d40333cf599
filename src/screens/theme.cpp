// Colours of the looks.
#include "screens/theme.hpp"

#include <algorithm>
#include <cassert>

namespace wm::screens {
namespace {

using drawing::Colour;
using drawing::Ink;

constexpr Colour black{0, 0, 0};
constexpr Colour white{255, 255, 255};

Theme day() {
    return {.look = Look::Day,
            .paper = {247, 244, 236},
            .panel = {237, 232, 219},
            .text = {28, 30, 34},
            .quiet = {64, 66, 70},
            .line = {128, 122, 108},
            .key = {255, 253, 248},
            .key_down = {214, 208, 190},
            .key_down_text = {28, 30, 34},
            .selected = {214, 208, 190},
            .chosen = {30, 62, 84},
            .chosen_text = white,
            .warn = {255, 236, 179},
            .warn_text = {46, 32, 0},
            .focus = {160, 70, 0}};
}

Theme night() {
    return {.look = Look::Night,
            .paper = {20, 22, 25},
            .panel = {31, 34, 38},
            .text = {226, 222, 212},
            .quiet = {190, 187, 178},
            .line = {110, 112, 116},
            .key = {40, 44, 50},
            .key_down = {58, 63, 71},
            .key_down_text = {226, 222, 212},
            .selected = {58, 63, 71},
            .chosen = {196, 208, 216},
            .chosen_text = {12, 16, 20},
            .warn = {66, 50, 10},
            .warn_text = {255, 228, 160},
            .focus = {255, 176, 80}};
}

Theme sun() {
    return {.look = Look::Sun,
            .paper = white,
            .panel = white,
            .text = black,
            .quiet = black,
            .line = black,
            .key = white,
            .key_down = black,
            .key_down_text = white,
            .selected = {200, 200, 200},
            .chosen = black,
            .chosen_text = white,
            .warn = white,
            .warn_text = black,
            .focus = black,
            .line_mm = 0.6F,
            .mark_mm = 1.1F};
}

Colour day_ink(Ink role, const Theme& theme) {
    switch (role) {
        case Ink::Text:
            return theme.text;
        case Ink::Faint:
            return theme.quiet;
        case Ink::Hairline:
            return theme.line;
        case Ink::Paper:
            return theme.paper;
        case Ink::Tint:
            return theme.panel;
        case Ink::Good:
            return {0, 74, 44};
        case Ink::Bad:
            return {128, 16, 8};
        case Ink::Unsure:
            return {92, 54, 0};
        case Ink::Waiting:
            return {44, 62, 92};
        case Ink::Accent:
            return {30, 62, 84};
        case Ink::Hot:
            return {170, 50, 30};
        case Ink::Cold:
            return {30, 90, 150};
        case Ink::Fluid:
            return {110, 80, 150};
        case Ink::Sun:
            return {200, 140, 20};
    }
    assert(false && "an ink outside the enumeration");
    return theme.text;
}

Colour night_ink(Ink role, const Theme& theme) {
    switch (role) {
        case Ink::Text:
            return theme.text;
        case Ink::Faint:
            return theme.quiet;
        case Ink::Hairline:
            return theme.line;
        case Ink::Paper:
            return theme.paper;
        case Ink::Tint:
            return theme.panel;
        case Ink::Good:
            return {132, 222, 168};
        case Ink::Bad:
            return {255, 164, 148};
        case Ink::Unsure:
            return {250, 206, 120};
        case Ink::Waiting:
            return {170, 198, 240};
        case Ink::Accent:
            return {196, 208, 216};
        case Ink::Hot:
            return {240, 130, 110};
        case Ink::Cold:
            return {120, 180, 240};
        case Ink::Fluid:
            return {190, 160, 230};
        case Ink::Sun:
            return {250, 210, 110};
    }
    assert(false && "an ink outside the enumeration");
    return theme.text;
}

Colour sun_ink(Ink role) {
    switch (role) {
        case Ink::Paper:
        case Ink::Tint:
            return white;
        case Ink::Hot:
        case Ink::Cold:
        case Ink::Fluid:
        case Ink::Sun:
        case Ink::Hairline:
            return {40, 40, 40};
        case Ink::Text:
        case Ink::Faint:
        case Ink::Good:
        case Ink::Bad:
        case Ink::Unsure:
        case Ink::Waiting:
        case Ink::Accent:
            return black;
    }
    assert(false && "an ink outside the enumeration");
    return black;
}

}  // namespace

std::string_view in_words(Look look) {
    switch (look) {
        case Look::Day:
            return "day";
        case Look::Night:
            return "night";
        case Look::Sun:
            return "sun";
    }
    assert(false && "a look outside the enumeration");
    return "day";
}

Colour Theme::ink(Ink role) const {
    switch (look) {
        case Look::Day:
            return day_ink(role, *this);
        case Look::Night:
            return night_ink(role, *this);
        case Look::Sun:
            return sun_ink(role);
    }
    assert(false && "a look outside the enumeration");
    return text;
}

Theme theme_of(Look look) {
    switch (look) {
        case Look::Day:
            return day();
        case Look::Night:
            return night();
        case Look::Sun:
            return sun();
    }
    assert(false && "a look outside the enumeration");
    return day();
}

std::vector<TextPair> text_pairs(const Theme& t) {
    std::vector<TextPair> pairs{
        {"text on paper", t.text, t.paper},   {"text on panel", t.text, t.panel},
        {"text on key", t.text, t.key},       {"text on pressed key", t.key_down_text, t.key_down},
        {"quiet on paper", t.quiet, t.paper}, {"quiet on panel", t.quiet, t.panel},
        {"quiet on key", t.quiet, t.key},     {"words on chosen key", t.chosen_text, t.chosen},
        {"caution", t.warn_text, t.warn},           {"marked letters", t.text, t.selected},
    };
    for (const Ink role : {Ink::Good, Ink::Bad, Ink::Unsure, Ink::Waiting, Ink::Accent}) {
        pairs.push_back({"outcome word on paper", t.ink(role), t.paper});
        pairs.push_back({"outcome word on panel", t.ink(role), t.panel});
        pairs.push_back({"outcome word on key", t.ink(role), t.key});
    }
    return pairs;
}

Metrics fitted(Metrics wanted, float width_px, float height_px) {
    const float most = std::min(std::min(width_px, height_px) / least_short_mm,
                                std::max(width_px, height_px) / least_long_mm);
    return {.px_per_mm = std::max(0.5F, std::min(wanted.px_per_mm, most)),
            .text_percent = wanted.text_percent,
            .glass_px_per_mm = wanted.px_per_mm};
}

}  // namespace wm::screens
