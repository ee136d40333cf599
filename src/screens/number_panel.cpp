// The number entry.
#include "screens/number_panel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <utility>

#include "figures/outcome_mark.hpp"
#include "figures/tolerance_scale.hpp"
#include "screens/keypad.hpp"
#include "screens/label.hpp"
#include "screens/marks.hpp"
#include "screens/screen_canvas.hpp"
#include "units/reading.hpp"

namespace wm::screens {
namespace {

using desk::CheckView;
using desk::LimitsView;

/// What instruments for the same thing show.
constexpr std::array<std::array<std::string_view, 3>, 2> unit_families{{{"kPa", "bar", "psi"}, {"°C", "°F", ""}}};

}  // namespace

std::string next_unit(std::string_view now) {
    for (const auto& family : unit_families) {
        const auto here = std::find(family.begin(), family.end(), now);
        if (here == family.end()) continue;
        const auto next = here + 1;
        return std::string{next == family.end() || next->empty() ? family.front() : *next};
    }
    return {};
}

std::optional<double> shown_in(std::optional<double> value, std::string_view from, std::string_view to) {
    if (!value || from == to) return value;
    const auto own = units::unit_named(from);
    const auto other = units::unit_named(to);
    if (!own || !other) return value;
    // What a gauge can show of it: the rest is the noise of the factor.
    return std::round(other->from_si(own->to_si(*value)) * 1e4) / 1e4;
}

namespace {

const LimitsView& limits_of(const CheckView& check, const RunDraft& draft,
                            const desk::Preview* preview) {
    if (preview != nullptr && !preview->limits.text.empty()) return preview->limits;
    const desk::PlaceView* place = place_at_hand(check, draft);
    if (place != nullptr && !place->limits.text.empty()) return place->limits;
    return check.limits;
}

std::string own_unit(const CheckView& check, const RunDraft& draft) {
    const desk::PlaceView* place = place_at_hand(check, draft);
    return place != nullptr && !place->unit.empty() ? place->unit : check.unit;
}

std::string unit_of(const CheckView& check, const RunDraft& draft) {
    return draft.unit.empty() ? own_unit(check, draft) : draft.unit;
}

bool same_word(std::string_view a, std::string_view b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](char x, char y) { return std::tolower(static_cast<unsigned char>(x)) == std::tolower(static_cast<unsigned char>(y)); });
}

// A unit behind the figures is taken as if its key had been pressed; "60 psi" saved as 60 kPa would conform.
void take_letters(Touch& touch, const CheckView& check, RunDraft& draft) {
    if (draft.value.empty()) return draft.letters.clear();
    const std::size_t before = draft.letters.size();
    for (const char sign : touch.typing.letters)
        if (sign != ' ' && sign != '.' && sign != ',' && sign != '-' && (sign < '0' || sign > '9')) draft.letters += sign;
    if (draft.letters.size() == before) return;
    draft.sure = draft.save_asked = draft.said_asked = false;
    const std::string own = own_unit(check, draft);
    for (std::string unit = own; !unit.empty(); unit = next_unit(unit)) {
        if (same_word(draft.letters, unit)) {
            draft.unit = unit == own ? std::string{} : unit;
            draft.letters.clear();
            return;
        }
        if (next_unit(unit) == own) return;
    }
}

bool is_in_doubt(const RunDraft& draft, const desk::Preview* preview) {
    return !draft.letters.empty() || (preview != nullptr && preview->needs_sure);
}

/// What stands above the value: of what it is, or what is the matter with it.
std::string told_above(const CheckView& check, const RunDraft& draft, std::string_view above) {
    const std::string unit = unit_of(check, draft);
    if (!draft.letters.empty())
        return fmt::format("\"{}\" is not taken; is it {}?", draft.letters, unit.empty() ? std::string_view{"so"} : std::string_view{unit});
    return draft.from_earlier ? fmt::format("{}: typed before, NOT saved", above) : std::string{above};
}

void value_and_unit(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft, std::string_view above) {
    const std::string unit = unit_of(check, draft);
    const std::string next = next_unit(unit);
    if (!value_box(touch, at, {.value = draft.value, .unit = unit, .above = above, .other_units = !next.empty()}))
        return;
    draft.unit = next == own_unit(check, draft) ? std::string{} : next;
    draft.letters.clear();
    draft.sure = draft.said_asked = false;
}

void ask_preview(const CheckView& check, RunDraft& draft, Requests& requests) {
    if (draft.value.empty()) return;
    AskPreview ask{.job = draft.job,
                   .check = check.id,
                   .place = draft.place,
                   .text = typed_text(draft),
                   .instrument = instrument_at_hand(check, draft)};
    if (draft.asked && *draft.asked == ask) return;
    draft.asked = ask;
    requests.emplace_back(std::move(ask));
}

void scale(Touch& touch, const Rect& at, const CheckView& check, const RunDraft& draft, const desk::Preview* preview) {
    const LimitsView& limits = limits_of(check, draft, preview);
    const std::string unit = draft.unit.empty() || limits.unit != own_unit(check, draft) ? limits.unit : draft.unit;
    const auto shown = [&](std::optional<double> value) { return shown_in(value, limits.unit, unit); };
    figures::ToleranceScale input;
    input.low = shown(limits.low);
    input.high = shown(limits.high);
    input.accept_low = shown(limits.accept_low);
    input.accept_high = shown(limits.accept_high);
    input.target = shown(limits.target);
    if (preview != nullptr) {
        input.reading = shown(preview->value);
        input.outcome = preview->outcome;
    }
    input.unit = unit;
    input.text_mm = small_em_mm * 0.82;
    if (!limits.low || !limits.high) {
        input.show_from = shown(check.plausible_low);
        input.show_to = shown(check.plausible_high);
    }
    ScreenCanvas canvas{touch, at};
    figures::draw_tolerance_scale(canvas, canvas.sheet(), input);
}

std::string above_value(const CheckView& check, const RunDraft& draft) {
    if (check.places.size() > 1 && !draft.place.empty()) {
        const auto numbered = [](const std::string& name) {
            return !name.empty() && name.find_first_not_of("0123456789") == std::string::npos;
        };
        const auto count = std::count_if(check.places.begin(), check.places.end(),
                                         [&](const desk::PlaceView& place) { return numbered(place.name); });
        if (!numbered(draft.place)) return draft.place;
        return fmt::format("place {} of {}", draft.place, count);
    }
    if (draft.mode == RunMode::Correcting) return "new reading, after the correction";
    // What is saved stays in the journal, but no longer counts. Of what was read at another place or said beside it nothing is replaced.
    for (auto reading = check.readings.rbegin(); reading != check.readings.rend(); ++reading)
        if (!reading->undone && !reading->superseded && reading->place == draft.place) return fmt::format("new reading, in place of {}", reading->text);
    return "reading";
}

/// What the key keeps: the figure, and what is said with it.
std::string_view words_to_save(const CheckView& check, const RunDraft& draft) {
    constexpr std::array<std::string_view, 5> words{"Save", "Save both", "Save all 3", "Save all 4", "Save all 5"};
    if (draft.said_asked) return "All so: save";
    return words[std::min(said_with(check, draft).size(), words.size() - 1)];
}

KeypadFace keypad_face(const CheckView& check, const RunDraft& draft, const desk::Preview* preview) {
    if (draft.value.empty() || draft.value == "-") return {.save = KeyState::Blocked};
    if (draft.mode == RunMode::Correcting) {
        if (draft.done.empty()) return {.save_words = "First: what was done", .save = KeyState::Blocked};
        return {.save_words = "Save", .save = KeyState::Ready, .save_small = "corrected"};
    }
    if (is_in_doubt(draft, preview) && !draft.sure) {
        return {.save_words = "Is it so?", .save = KeyState::Ready};
    }
    const bool says = !said_with(check, draft).empty();
    return {.save_words = draft.sure && !says ? "Save, it is so" : words_to_save(check, draft), .save = KeyState::Ready};
}

/// Draws the keys; saves, or asks what the changed value would mean.
void keys_and_save(Touch& touch, const Rect& at, const CheckView& check,
                   const desk::Preview* preview, RunDraft& draft, Requests& requests) {
    const std::string before = draft.value;
    // What was not taken goes first.
    if (!draft.letters.empty() && touch.typing.take(Stroke::Backspace)) draft.letters.clear();
    const Keyed keyed = keypad(touch, at, draft.value, keypad_face(check, draft, preview));
    if (keyed == Keyed::Changed) {
        draft.sure = draft.save_asked = draft.said_asked = false;
        // A value that waited is taken as it is, or typed anew: digits put behind it make a number nobody read.
        if (std::exchange(draft.from_earlier, false) && draft.value.starts_with(before)) draft.value.erase(0, before.size());
    }
    take_letters(touch, check, draft);
    ask_preview(check, draft, requests);
    // A quick finger saves before the answer is there: the guard is waited for, not passed by.
    if (keyed == Keyed::Save) draft.save_asked = true;
    if (!draft.save_asked || preview == nullptr) return;
    draft.save_asked = false;
    if (is_in_doubt(draft, preview) && !draft.sure) {
        if (keyed == Keyed::Save) {
            draft.sure = true;
            touch.be_deaf_for(bounce_s);
        }
        return;
    }
    // What is said with the figure is read before it is kept.
    if (!draft.said_asked && !said_with(check, draft).empty()) {
        draft.said_asked = true;
        touch.be_deaf_for(unheard_s);
        return;
    }
    save_reading(check, typed_text(draft), draft, requests);
}

/// One key that goes on to the next instrument of the type.
void instrument_wheel(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft) {
    const auto& all = instruments_at_hand(check, draft);
    const std::string used = instrument_at_hand(check, draft);
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].id != used) continue;
        const std::string words = instrument_words(all[i]);
        const std::string small = instrument_doubt(all[i]);
        if (key(touch, "instrument", at, {.words = words, .small = small, .face = Face::Small})) {
            draft.instrument = all[(i + 1) % all.size()].id;
        }
        return;
    }
}

}  // namespace

const desk::ReadingView* standing_reading(const CheckView& check) {
    for (auto reading = check.readings.rbegin(); reading != check.readings.rend(); ++reading)
        if (!reading->undone && !reading->superseded) return &*reading;
    return nullptr;
}

const desk::Preview* preview_now(const World& world, const RunDraft& draft) {
    if (!world.preview || !draft.asked || draft.value.empty()) return nullptr;
    if (world.preview->asked != *draft.asked) return nullptr;
    return &world.preview->preview;
}

void meaning(Touch& touch, const Rect& at, const desk::Preview& preview, std::string_view title) {
    const bool warned = !preview.warnings.empty();
    if (warned) {
        ground(touch, at, touch.theme.warn);
        outline(touch, at, touch.theme.warn_text, 0.4F);
    }
    // Two lines need the whole height of a low head.
    Rect rest = title.empty() ? at.inset(touch.mm(1.0F)) : Rect{at.x + touch.mm(1.0F), at.y, std::max(0.0F, at.w - touch.mm(2.0F)), at.h};
    outcome_shape(touch, cut_left(rest, std::min(rest.h, touch.mm(12.0F)), touch.mm(2.0F)).inset(title.empty() ? 0.0F : touch.mm(0.5F)),
                  preview.outcome);
    if (!title.empty()) {
        const float line = em_px(Face::Bold, {.px_per_mm = touch.metrics.px_per_mm});
        Rect name_at = rest;
        name_at.h = rest.h / 2.0F;
        // The verdict keeps one line, whatever the name needs.
        if (!fits_plain(touch, {rest.x, rest.y, rest.w, line}, title, Face::Bold)) name_at.h = std::max(name_at.h, std::min(2.0F * line, rest.h - line));
        std::string name{title};
        shorten(name, [&] { return fits_plain(touch, name_at, name, Face::Bold); });
        draw_label(touch, touch.named("title"), cut_top(rest, name_at.h), name, {.face = Face::Bold, .colour = warned ? touch.theme.warn_text : touch.theme.text});
    }
    const std::string_view words = warned ? "look again" : measure::in_words(preview.outcome);
    const auto letters = warned ? touch.theme.warn_text : touch.theme.text;
    draw_label(touch, touch.named("meaning"), rest, words, {.face = Face::Bold, .colour = letters});
}

std::string required_as_shown(const LimitsView& limits, std::string_view unit) {
    if (unit.empty() || unit == limits.unit || !units::unit_named(unit) || !units::unit_named(limits.unit)) return {};
    const auto words = [&](std::optional<double> value) { return units::print_short(*shown_in(value, limits.unit, unit), 4); };
    if (limits.low && limits.high) return fmt::format("{} to {} {}", words(limits.low), words(limits.high), unit);
    if (limits.low) return fmt::format("{} {} or more", words(limits.low), unit);
    if (limits.high) return fmt::format("{} {} or less", words(limits.high), unit);
    return {};
}

std::string instrument_words(const desk::InstrumentView& instrument) {
    if (instrument.label.starts_with(instrument.id)) return instrument.label;
    return instrument.label.empty() ? instrument.id : instrument.id + " " + instrument.label;
}

std::string instrument_doubt(const desk::InstrumentView& one) {
    return one.in_date ? fmt::format("± {}", one.uncertainty)
                       : fmt::format("out of date since {}", one.due);
}

void instrument_keys(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft) {
    const Scope scope{touch, "instrument"};
    const auto& all = instruments_at_hand(check, draft);
    const std::string& type = instrument_type_at_hand(check, draft);
    if (all.empty()) {
        // Without one, nothing says how far off a number may be.
        if (!type.empty() && key(touch, "which", at, {.words = "Which " + type + "?", .small = "add it to this job", .face = Face::Small}))
            draft.mode = RunMode::Instrument;
        return;
    }
    const std::string used = instrument_at_hand(check, draft);
    const std::vector<Rect> cells = columns(at, static_cast<int>(all.size()), touch.gap());
    for (std::size_t i = 0; i < all.size(); ++i) {
        const desk::InstrumentView& one = all[i];
        const std::string words = instrument_words(one);
        const std::string small = instrument_doubt(one);
        if (key(touch, one.id, cells[i],
                {.words = words,
                 .small = small,
                 .state = one.id == used ? KeyState::Chosen : KeyState::Ready})) {
            draft.instrument = one.id;
        }
    }
}

void number_panel(Touch& touch, const Rect& at, const CheckView& check, const World& world,
                  RunDraft& draft, Requests& requests) {
    const desk::Preview* preview = preview_now(world, draft);
    Rect rest = at;
    const Rect keys = cut_bottom(rest, touch.mm(keypad_side_mm), touch.gap());
    const std::string above = told_above(check, draft, above_value(check, draft));
    const bool other_units = !next_unit(unit_of(check, draft)).empty();
    const float wanted = value_box_height(touch, rest.w, {.value = {}, .unit = {}, .above = above, .other_units = other_units});
    // Not at the cost of what the value would mean.
    const float value_height = std::min(rest.h < touch.mm(44.0F) ? touch.mm(21.0F) : wanted, rest.h);
    const Rect value_at = cut_top(rest, value_height, touch.mm(2.0F));
    const Rect meaning_at = cut_bottom(rest, std::min(touch.mm(13.0F), rest.h), touch.mm(1.0F));
    if (rest.h > touch.mm(10.0F)) {
        scale(touch, rest, check, draft, preview);
    }
    if (preview != nullptr) meaning(touch, meaning_at, *preview);
    value_and_unit(touch, value_at, check, draft, above);
    keys_and_save(touch, keys, check, preview, draft, requests);
}

void split_number_panel(Touch& touch, const SplitNumber& at, const CheckView& check,
                        const World& world, RunDraft& draft, Requests& requests) {
    const desk::Preview* preview = preview_now(world, draft);
    Rect rest = at.value_at;
    const bool has_scale = rest.h > touch.mm(24.0F);
    const Rect scale_at = has_scale ? cut_bottom(rest, touch.mm(13.0F), touch.mm(1.0F)) : Rect{};
    if (!instruments_at_hand(check, draft).empty()) {
        instrument_wheel(touch, cut_right(rest, rest.w * 0.38F, touch.gap()), check, draft);
    } else if (!instrument_type_at_hand(check, draft).empty()) {
        instrument_keys(touch, cut_right(rest, rest.w * 0.38F, touch.gap()), check, draft);
    }
    value_and_unit(touch, rest, check, draft, told_above(check, draft, above_value(check, draft)));
    if (has_scale) scale(touch, scale_at, check, draft, preview);
    keys_and_save(touch, at.keypad_at, check, preview, draft, requests);
}

}  // namespace wm::screens
