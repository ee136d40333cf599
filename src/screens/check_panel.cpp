// Layout of the check at hand and its entry areas.
#include "screens/check_panel.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "screens/check_words.hpp"
#include "screens/keypad.hpp"
#include "screens/label.hpp"
#include "screens/marks.hpp"
#include "screens/number_panel.hpp"
#include "screens/photo_panel.hpp"
#include "screens/places_panel.hpp"

namespace wm::screens {
namespace {

// Below this a chart of a series says nothing, and takes turns with the question.
constexpr float least_chart_mm = 24.0F;

using desk::CheckView;
using desk::EntryForm;
using measure::Outcome;

/// So high that the longest answer stands on its key at the plain text size.
float answer_height(const Touch& touch, float width, const std::vector<std::string>& answers, int per_row) {
    const auto n = static_cast<float>(per_row);
    const float scale = touch.metrics.text_scale();
    const float cell = (width - touch.gap() * (n - 1.0F)) / n - touch.mm(6.0F);
    float height = touch.mm(strong_key_mm + 2.0F);
    for (const std::string& answer : answers)
        height = std::max(height, prose_height(touch, cell * scale, answer, Face::Bold) / scale + touch.mm(3.0F));
    return height;
}

/// What is recorded at the place at hand and stands; empty for nothing.
std::string_view standing_answer(const CheckView& check, const RunDraft& draft) {
    if (const desk::PlaceView* place = place_at_hand(check, draft)) return place->text;
    const desk::ReadingView* reading = standing_reading(check);
    return reading == nullptr ? std::string_view{} : reading->text;
}

/// The key of the answer that stands is marked: who comes back sees what was said.
KeyFace answer_face(std::string_view answer, std::string_view standing, KeyState state, Face face) {
    const bool stands = answer == standing;
    return {.words = answer,
            .small = stands ? "as it stands" : "",
            .role = KeyRole::Answer,
            .state = stands && state == KeyState::Ready ? KeyState::Chosen : state,
            .face = face,
            .why = say_first};
}

void answer_keys(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft,
                 const std::vector<std::string>& answers, Requests& requests) {
    const KeyState state = draft.mode == RunMode::Correcting && draft.done.empty()
                               ? KeyState::Blocked
                               : KeyState::Ready;
    const std::string_view standing = standing_answer(check, draft);
    const int per_row = answers.size() == 2 ? 2 : fitting(at.w, touch.mm(62.0F), touch.gap());
    const float least = answer_height(touch, at.w, answers, per_row);
    const int rows = rows_for(static_cast<int>(answers.size()), per_row);
    const float height =
        std::max(least, (at.h - touch.mm(2.5F) - touch.gap() * static_cast<float>(rows - 1)) /
                            static_cast<float>(std::max(1, rows)));
    ScrollArea area{touch, "answers", at};
    Grid grid{.area = {},
              .per_row = per_row,
              .height = std::max(least, std::min(height, touch.mm(34.0F))),
              .gap = touch.gap()};
    grid.area = area.take(grid.total_height(static_cast<int>(answers.size())));
    grid.area.w = area.width();
    for (std::size_t i = 0; i < answers.size(); ++i) {
        if (key(touch, answers[i], grid.cell(static_cast<int>(i)),
                answer_face(answers[i], standing, state, Face::Bold))) {
            touch.attention.at.clear();
            save_reading(check, answers[i], draft, requests);
            return;
        }
    }
}

bool typed_letter(Touch& touch, std::string_view low, std::string_view high) {
    const std::string& letters = touch.typing.letters;
    return letters.find(low) != std::string::npos || letters.find(high) != std::string::npos;
}

void yes_no(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft,
            Requests& requests) {
    const bool ready = draft.mode != RunMode::Correcting || !draft.done.empty();
    const std::vector<Rect> cells = columns(at, 2, touch.gap());
    const KeyState state = ready ? KeyState::Ready : KeyState::Blocked;
    const auto answer = [&](std::string_view words, const Rect& cell) {
        return key(touch, words, cell, answer_face(words, standing_answer(check, draft), state, Face::Value));
    };
    // A letter only puts the ring on an answer, Enter gives it: a word typed beside its field answers nothing.
    if (ready && typed_letter(touch, "y", "Y")) touch.attention.at = touch.named("yes");
    if (ready && typed_letter(touch, "n", "N")) touch.attention.at = touch.named("no");
    const bool yes = answer("yes", cells[0]);
    const bool no = answer("no", cells[1]);
    if (!yes && !no) return;
    touch.attention.at.clear();
    save_reading(check, yes ? "yes" : "no", draft, requests);
}

std::vector<std::string> answers_of(const CheckView& check, const RunDraft& draft) {
    const desk::PlaceView* place = place_at_hand(check, draft);
    const bool own = place != nullptr && !(place->accepted.empty() && place->refused.empty());
    std::vector<std::string> answers = own ? place->accepted : check.accepted;
    const std::vector<std::string>& others = own ? place->refused : check.refused;
    answers.insert(answers.end(), others.begin(), others.end());
    return answers;
}

/// "1" to "9" put the ring on an answer, Enter gives it.
void choice(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft,
            Requests& requests) {
    const std::vector<std::string> answers = answers_of(check, draft);
    const bool ready = draft.mode != RunMode::Correcting || !draft.done.empty();
    for (const char letter : touch.typing.letters) {
        const auto number = static_cast<std::size_t>(letter - '1');
        if (!ready || letter < '1' || letter > '9' || number >= answers.size()) continue;
        const Scope scope{touch, "answers"};
        touch.attention.at = touch.named(answers[number]);
    }
    answer_keys(touch, at, check, draft, answers, requests);
}

void free_text(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft,
               Requests& requests) {
    Rect rest = at;
    // One row where there is no room for two.
    const bool one_row = at.h < touch.mm(key_mm + strong_key_mm + gap_mm) - 1.0F && at.w >= touch.mm(110.0F);
    const Rect save_beside = one_row ? cut_right(rest, touch.mm(45.0F), touch.gap()) : Rect{};
    const bool ended = field(touch, "text", cut_top(rest, touch.key_side(), touch.gap()),
                             draft.value, "write here");
    const Rect save = one_row ? Rect{save_beside.x, save_beside.y, save_beside.w, std::min(save_beside.h, touch.strong_side())}
                              : cut_top(rest, touch.strong_side());
    const bool pressed = key(touch, "save", save,
                             {.words = "Save",
                              .role = KeyRole::Primary,
                              .state = draft.value.empty() ? KeyState::Blocked : KeyState::Ready,
                              .why = "Nothing is written yet."});
    if ((ended || pressed) && !draft.value.empty()) {
        touch.attention.letters_done = true;
        save_reading(check, draft.value, draft, requests);
    }
}

std::string_view none_words(const CheckView& check) {
    return check.form == EntryForm::Signature
               ? "Signed on the sign-off screen (F4)."
               : "Nothing to enter: this is worked out from the facts and the other checks.";
}

void none(Touch& touch, const Rect& at, const CheckView& check) {
    panel(touch, at);
    ScrollArea area{touch, "none", at.inset(touch.mm(1.5F))};
    area.words(none_words(check));
}

void conflict_keys(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft,
                   Requests& requests) {
    const Scope scope{touch, "conflict"};
    ScrollArea area{touch, "readings", at};
    area.words("Two devices recorded this without knowing of each other. Look, then keep one.");
    for (const desk::ReadingView& reading : check.readings) {
        if (reading.superseded || reading.undone) continue;
        const std::string small = fmt::format("{}, {}", reading.by, reading.at);
        if (key(touch, reading.entry, area.take(touch.strong_side(), touch.gap()),
                {.words = "Keep " + reading.text, .small = small, .role = KeyRole::Row})) {
            requests.emplace_back(desk::Intent{
                desk::ResolveConflict{draft.job, check.id, reading.place, reading.entry}});
        }
    }
}

void correction_row(Touch& touch, Rect& rest, RunDraft& draft) {
    if (draft.mode != RunMode::Correcting) return;
    (void)field(touch, "done", cut_top(rest, touch.key_side(), touch.gap()), draft.done,
                "First: what was done about it?");
}

/// Which picture goes with the reading.
void photo_chip(Touch& touch, Rect& rest, RunDraft& draft) {
    if (draft.photo_path.empty()) return;
    Rect row = cut_top(rest, touch.key_side(), touch.gap());
    if (key(touch, "without photo", cut_right(row, touch.mm(34.0F), touch.gap()),
            {.words = "Leave it out", .face = Face::Small})) {
        draft.photo_path.clear();
    }
    line_of_text(touch, row, "Photo: " + file_name(draft.photo_path),
                 {.face = Face::Small, .colour = touch.theme.text});
}

/// Of a question in any text size, with the edges of its area.
float two_lines(const Touch& touch) { return std::max(touch.mm(14.0F), 2.0F * em_px(Face::Body, touch.metrics) + touch.mm(1.6F)); }

/// A ten-inch panel across: the question comes before what only says the same again.
bool is_low(const Touch& touch, const Rect& at) { return at.h < touch.mm(keypad_side_mm + 24.0F); }

enum class SeriesClock { NotStarted, Runs };

float entry_height(const Touch& touch, const Rect& at, EntryForm form, const std::vector<std::string>& answers, SeriesClock clock) {
    switch (form) {
        case EntryForm::YesNo:
            return touch.mm(is_low(touch, at) ? strong_key_mm : strong_key_mm + 8.0F);
        case EntryForm::Choice: {
            const int per_row = answers.size() == 2 ? 2 : fitting(at.w, touch.mm(62.0F), touch.gap());
            const auto rows = static_cast<float>(rows_for(static_cast<int>(answers.size()), per_row));
            return std::min(at.h * 0.62F,
                            rows * (answer_height(touch, at.w, answers, per_row) + touch.gap()) + touch.mm(2.0F));
        }
        case EntryForm::Number:
            return 0.0F;
        case EntryForm::Series:
            // Before its start there is one key and one sentence; the room belongs to the explanation.
            if (clock == SeriesClock::NotStarted)
                return touch.mm(strong_key_mm + key_mm + 11.0F) + 3.0F * em_px(Face::Body, touch.metrics);
            // On a low panel keys, readings and the least chart, and three lines of the question.
            if (is_low(touch, at)) return std::min(at.h * 0.72F, touch.mm(46.0F));
            return std::max(at.h * 0.72F, std::min(touch.mm(126.0F), at.h - touch.mm(18.0F)));
        case EntryForm::Text:
            return touch.mm(is_low(touch, at) && at.w >= touch.mm(110.0F) ? strong_key_mm : key_mm + strong_key_mm + gap_mm);
        case EntryForm::Photo:
            return at.h * 0.6F;
        case EntryForm::Signature:
        case EntryForm::None:
            return std::max(touch.mm(key_mm + 6.0F), 3.6F * em_px(Face::Body, touch.metrics));
    }
    return 0.0F;
}

void series(Touch& touch, const Rect& at, const SeriesPlace& place, RunDraft& draft,
            std::vector<SeriesRun>& runs, Requests& requests) {
    std::optional<SeriesRun> run;
    if (const auto* running = run_of(runs, draft.job, place.check.id)) run = *running;
    auto entered = series_panel(touch, at, place, draft.series, runs, requests);
    if (!entered) return;
    if (run && !run->instrument.empty()) draft.instrument = run->instrument;
    // What is out of the usual was asked about when it was typed.
    draft.sure = true;
    save_reading(place.check, std::move(*entered), draft, requests);
    draft.sent->run = std::move(run);
}

/// A check that waits is not answered in passing: first its hold point, or the word that it was done in another order.
void turn_first(Touch& touch, const Rect& at, const CheckView& check, const World& world, RunDraft& draft) {
    const Scope scope{touch, "turn"};
    ScrollArea area{touch, "keys", at};
    // The nearest two are enough to go on by; the rest comes up after them.
    std::vector<std::string> holds = first_to_do(check, world);
    holds.resize(std::min<std::size_t>(holds.size(), 2));
    for (const std::string& hold : holds) {
        if (key(touch, "go to " + hold, area.take(touch.strong_side(), touch.gap()),
                {.words = "Go to: " + title_of(world, hold), .small = "hold point that comes first", .role = KeyRole::Primary})) {
            draft.go_to = hold;
        }
    }
    if (key(touch, "out of turn", area.take(touch.strong_side(), touch.gap()),
            {.words = "It was done in another order", .small = "kept, and marked so in the report", .role = KeyRole::Answer})) {
        draft.out_of_turn = check.id;
        touch.be_deaf_for(bounce_s);
    }
}

void entry(Touch& touch, const Rect& at, const CheckView& check, const World& world, bool in_turns,
           RunDraft& draft, Requests& requests) {
    if (check.conflict) return conflict_keys(touch, at, check, draft, requests);
    switch (form_at_hand(check, draft)) {
        case EntryForm::YesNo:
            return yes_no(touch, at, check, draft, requests);
        case EntryForm::Choice:
            return choice(touch, at, check, draft, requests);
        case EntryForm::Number:
            return number_panel(touch, at, check, world, draft, requests);
        case EntryForm::Series:
            return;
        case EntryForm::Text:
            return free_text(touch, at, check, draft, requests);
        case EntryForm::Photo:
            return photo_entry(touch, at, check, world, in_turns, draft, requests);
        case EntryForm::Signature:
        case EntryForm::None:
            return none(touch, at, check);
    }
}

}  // namespace

void check_head(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft) {
    Rect rest = at;
    // As low as its key, title and outcome share the height beside it.
    const bool flat = at.h < touch.mm(key_mm + 1.0F);
    const Rect beside = flat ? cut_right(rest, touch.mm(key_mm + 6.0F), touch.gap()) : Rect{};
    Rect title = cut_top(rest, flat ? at.h * 0.54F : at.h - touch.mm(7.6F));
    if (key(touch, "how", flat ? beside : cut_right(title, touch.mm(key_mm + 6.0F), touch.gap()), {.words = "How?", .face = Face::Small}))
        draft.mode = RunMode::Help;
    draw_label(touch, touch.named("title"), title, check.title,
               {.face = Face::Bold, .colour = touch.theme.text});
    Rect word = cut_left(rest, std::min(rest.w * 0.5F, touch.mm(72.0F)), touch.mm(2.0F));
    outcome_words(touch, word, check.outcome, Face::Bold);
    // Nothing that says how bad it is may shrink away: where the long words do not fit, the short ones stand in full size.
    const auto words_of = [&](std::string_view hold, std::string severity) { return check.hold ? std::string{hold} + severity : severity; };
    std::string tags = words_of("■ hold point · ", severity_words(check.severity));
    if (prose_height(touch, rest.w, tags, Face::Small) > 1.5F * em_px(Face::Small, touch.metrics)) tags = words_of("■ hold · ", severity_word(check.severity));
    draw_label(touch, touch.named("tags"), rest, tags,
               {.face = Face::Small, .across = Across::Right, .colour = touch.theme.quiet});
}

namespace {

/// On a low panel the head says what the typed value would mean, beneath the name of the check.
void head_or_meaning(Touch& touch, const Rect& at, const CheckView& check, const desk::Preview* preview,
                     RunDraft& draft) {
    if (preview == nullptr) return check_head(touch, at, check, draft);
    meaning(touch, at, *preview, check.title);
}

/// Of the places in `rest`, of which they want `wanted` and must leave `to_read`: what is asked and required is read before
/// another row of them is seen. No line is cut through, and no room left blank that shows more of a row.
float height_of_places(const Touch& touch, const Rect& rest, float wanted, float to_read, const std::vector<Paragraph>& first) {
    const float asked = std::min(paragraphs_height(touch, rest.w, first), std::max(rest.h * 0.6F, two_lines(touch)));
    const float most = std::min(rest.h * 0.55F, rest.h - std::max(to_read, asked) - touch.gap());
    const float height = std::min(wanted, std::max(touch.mm(key_mm + 3.0F), most));
    if (to_read > 0.0F) return height;
    const float seen = whole_lines(touch, rest.w, rest.h - height - touch.gap(), first);
    // Where not even one line is seen whole, one that is cut still says what is asked.
    return seen > 0.0F ? std::min(wanted, std::max(height, rest.h - touch.gap() - seen)) : height;
}

/// Beside the letters on the glass there is room for what is written, and for nothing else.
void writing_only(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft, Requests& requests) {
    Rect rest = at;
    if (draft.mode == RunMode::Correcting) return correction_row(touch, rest, draft);
    if (form_at_hand(check, draft) == EntryForm::Text) return free_text(touch, rest, check, draft, requests);
    if (form_at_hand(check, draft) == EntryForm::Photo) {
        (void)field(touch, "photo/caption", cut_top(rest, touch.key_side(), touch.gap()), draft.caption,
                    "what the picture shows");
        return;
    }
    ScrollArea area{touch, "writing", rest};
    area.words("No letters are needed here. Done closes them.");
}

}  // namespace

void check_panel(Touch& touch, const Rect& at, const CheckView& check, const World& world,
                 RunDraft& draft, std::vector<SeriesRun>& runs, Requests& requests) {
    const Scope scope{touch, "check"};
    if (at.h < touch.mm(60.0F)) return writing_only(touch, at, check, draft, requests);
    const EntryForm form = form_at_hand(check, draft);
    const SeriesRun* run = run_of(runs, draft.job, check.id);
    const bool running = run != nullptr;
    const bool keyed = form == EntryForm::Number || (form == EntryForm::Series && running);
    const bool beside = keyed && !check.conflict && at.w >= touch.mm(keypad_side_mm + 60.0F);
    const bool low = is_low(touch, at);
    const bool split = form == EntryForm::Number && !check.conflict && (low || !beside);
    Rect rest = at;
    const float side_mm = at.h < touch.mm(keypad_side_mm) - 1.0F ? low_keypad_width_mm : keypad_side_mm;
    const Rect side = beside ? cut_right(rest, touch.mm(side_mm), touch.mm(4.0F)) : Rect{};
    const bool flat_head = at.h < touch.mm(190.0F) && em_px(Face::Bold, touch.metrics) <= touch.mm(key_mm * 0.54F) &&
                           prose_height(touch, rest.w - touch.mm(key_mm + 6.0F) - touch.gap(), check.title, Face::Bold) < 1.5F * em_px(Face::Bold, touch.metrics);
    const desk::Preview* meant = split ? preview_now(world, draft) : nullptr;
    const auto said = form == EntryForm::Number && !check.conflict && draft.said_asked ? said_with(check, draft) : std::vector<std::string>{};
    const bool warns = said.empty() && meant != nullptr && !meant->warnings.empty() && !draft.said_asked;
    const float to_read = height_to_read(touch, rest.w, said, warns ? meant : nullptr);
    const float remedy = remedy_height(touch, rest.w, check, draft);
    const float head = touch.mm(flat_head ? key_mm : key_mm + 8.0F);
    // What must be read before the next press needs the room; it says itself what the value would mean.
    if (to_read == 0.0F || rest.h - head > 3.0F * to_read)
        head_or_meaning(touch, cut_top(rest, head, touch.gap()), check, meant, draft);
    correction_row(touch, rest, draft);
    // Among the pictures the chosen one is marked.
    if (form != EntryForm::Photo || check.conflict) photo_chip(touch, rest, draft);
    Rect below;
    Rect keys = side;
    bool tight = false;
    bool photos_turn = false;
    const bool waits = !check.waits_for.empty() && draft.out_of_turn != check.id && !check.conflict && form != EntryForm::None &&
                       form != EntryForm::Signature && !running && draft.mode != RunMode::Correcting;
    if (waits) {
        const auto wanted = static_cast<float>(std::min<std::size_t>(check.waits_for.size(), 2) + 1) * (touch.strong_side() + touch.gap());
        below = beside ? side : cut_bottom(rest, std::min(wanted, rest.h * 0.6F), touch.gap());
    } else if (split) {
        if (!beside) keys = cut_bottom(rest, keypad_height(touch, rest.w), touch.gap());
        // The scale comes with the first digit: until then its room is the question's, and then that of what is said with it.
        // Beside places it has none where the words are large or what was done has its row: then it is that of what the value means.
        const bool crowded = places_height(touch, rest.w, check) > 0.0F && (draft.mode == RunMode::Correcting || touch.metrics.text_scale() > 1.3F);
        const bool no_scale = (low && (draft.value.empty() || crowded)) || !said.empty();
        below = cut_bottom(rest, touch.mm(no_scale ? 18.0F : 31.0F), touch.mm(2.0F));
    } else if (!beside || form == EntryForm::Series) {
        const float wanted = check.conflict
                                 ? rest.h * 0.62F
                                 : entry_height(touch, rest, form, answers_of(check, draft),
                                                running ? SeriesClock::Runs : SeriesClock::NotStarted);
        const float rows = tight_series_height(touch, rest.w, beside);
        tight = form == EntryForm::Series && running && !check.conflict && wanted - rows < touch.mm(least_chart_mm);
        float height = !tight ? wanted : shows_chart(draft.series, *run) ? rest.h : rows;
        // What few pictures leave free is the question's. A folder that is gone, or has none, needs words of its own.
        if (form == EntryForm::Photo && !check.conflict && !world.photo_files.empty() && world.photos.gone.empty())
            height = std::min(height, photo_entry_height(touch, rest.w, world));
        if (form == EntryForm::Photo && !check.conflict) {
            const float least = photo_entry_least(touch, rest.w, world);
            photos_turn = rest.h < least + touch.gap() + two_lines(touch);
            height = !photos_turn ? std::max(height, least) : draft.look_asked.shows_pictures ? rest.h : photo_keys_height(touch, rest.w);
        }
        // Two lines of the question stay, whatever else there is: answers that scroll say so with their bar.
        const bool parts = !waits && places_height(touch, rest.w, check) > 0.0F;
        float kept = parts ? touch.mm(18.0F + key_mm + 3.0F) + touch.gap() : form == EntryForm::Series ? touch.mm(14.0F) : two_lines(touch);
        // After a reading that failed comes what to do about it, before other answers and another start.
        if (form == EntryForm::Choice) kept = std::max(kept, remedy + touch.gap());
        if (form == EntryForm::Series && !running)
            kept = std::max(kept, std::min(remedy + touch.gap(), rest.h - start_keys_height(touch, check, draft.series)));
        const float most = tight || photos_turn ? rest.h : std::max(rest.h - kept, std::min(rest.h - touch.mm(14.0F), touch.strong_side()));
        below = cut_bottom(rest, std::min(height, most), touch.gap());
    } else if (!instruments_at_hand(check, draft).empty() || !instrument_type_at_hand(check, draft).empty()) {
        instrument_keys(touch, cut_bottom(rest, touch.key_side(), touch.gap()), check, draft);
    }
    const float places = waits ? 0.0F : places_height(touch, rest.w, check);
    const desk::Preview* preview = form == EntryForm::Number ? preview_now(world, draft) : nullptr;
    if (places > 0.0F) {
        const float height = height_of_places(touch, rest, places, std::max(to_read, remedy), first_read(check, draft, preview));
        places_panel(touch, cut_bottom(rest, height, touch.gap()), check, draft);
    }
    if (form == EntryForm::Series && running && !draft.series.doubt.empty()) {
        desk::Preview doubted;
        doubted.warnings = {draft.series.doubt};
        warning_prose(touch, rest, doubted);
    } else if (preview != nullptr && !preview->warnings.empty() && !draft.said_asked) {
        warning_prose(touch, rest, *preview);
    } else if (!said.empty()) {
        said_prose(touch, rest, said, preview);
    } else if (rest.h > touch.mm(6.0F)) {  // none while the chart has its turn
        check_prose(touch, rest, check, world, draft, preview);
    }
    if (waits) return turn_first(touch, below, check, world, draft);
    if (split) return split_number_panel(touch, {keys, below}, check, world, draft, requests);
    if (form == EntryForm::Series && !check.conflict) {
        const auto keypad_at = beside ? std::optional{side} : std::nullopt;
        return series(touch, below, {check, world, keypad_at, draft.instrument, tight}, draft, runs, requests);
    }
    entry(touch, beside ? side : below, check, world, photos_turn, draft, requests);
}

}  // namespace wm::screens
