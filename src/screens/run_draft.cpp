// Moving among checks and places, and turning what was typed into a request.
#include "screens/run_draft.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "screens/next_check.hpp"

namespace wm::screens {

using desk::CheckView;
using desk::EntryForm;
using desk::PlaceView;

namespace {

std::string first_open_place(const CheckView& check, std::string_view after) {
    bool passed = after.empty();
    for (const PlaceView& place : check.places) {
        if (passed && place.outcome == measure::Outcome::Open) return place.name;
        if (place.name == after) passed = true;
    }
    return {};
}

/// What is in hand is laid aside; a saved one is not there any more.
void lay_aside(RunDraft& draft) {
    const auto place = std::pair{draft.check, draft.place};
    const bool corrects = draft.mode == RunMode::Correcting;
    const bool half = !draft.value.empty() || !draft.photo_path.empty() || !draft.caption.empty() || (corrects && !draft.done.empty());
    if (half)
        draft.unsaved[place] = {draft.value,   draft.unit,       draft.instrument, draft.done,
                                draft.caption, draft.photo_path, corrects ? RunMode::Correcting : RunMode::Reading};
    else draft.unsaved.erase(place);
    draft.unsaved_series[draft.check] = draft.series;
}

void take_up_unsaved(RunDraft& draft) {
    draft.from_earlier = false;
    const auto found = draft.unsaved.find({draft.check, draft.place});
    if (found == draft.unsaved.end()) return;
    draft.value = found->second.value;
    draft.unit = found->second.unit;
    if (!found->second.instrument.empty()) draft.instrument = found->second.instrument;
    draft.done = found->second.done;
    draft.caption = found->second.caption;
    draft.photo_path = found->second.photo_path;
    draft.mode = found->second.mode;
    draft.unsaved.erase(found);
    draft.from_earlier = !draft.value.empty() && draft.value.find_first_not_of("0123456789.,-") == std::string::npos;
}

void clear_typed(RunDraft& draft) {
    draft.value.clear();
    draft.letters.clear();
    draft.from_earlier = false;
    draft.done.clear();
    draft.photo_path.clear();
    draft.caption.clear();
    draft.asked.reset();
    draft.sure = false;
    draft.save_asked = draft.said_asked = false;
    draft.mode = RunMode::Reading;
}

}  // namespace

namespace {

/// Forms that are come back to, each by the word it is kept under.
struct FormWord {
    RunMode mode;
    std::string_view word;
};
constexpr std::array form_words{
    FormWord{RunMode::Reading, "reading"},     FormWord{RunMode::Correcting, "correcting"}, FormWord{RunMode::Deferring, "deferring"},
    FormWord{RunMode::Conceding, "conceding"}, FormWord{RunMode::Photo, "photo"},           FormWord{RunMode::Facts, "fact"},
    FormWord{RunMode::NearMiss, "near miss"},  FormWord{RunMode::Leaving, "leaving"}};

/// Forms of other screens, which half_written.cpp takes up.
constexpr std::array forms_elsewhere{signing_words, call_words, closing_words};

std::string_view form_word(RunMode mode) {
    for (const FormWord& one : form_words)
        if (one.mode == mode) return one.word;
    return form_words.front().word;
}

/// The fields of the form that is open, by the name each is kept under.
std::vector<std::pair<std::string_view, std::string*>> fields_of(RunDraft& draft, EntryForm form) {
    switch (draft.mode) {
        case RunMode::Reading:
            if (form == EntryForm::Text) return {{"text", &draft.value}};
            if (form == EntryForm::Series) {
                constexpr std::array<std::string_view, 4> names{"channel 1", "channel 2", "channel 3", "channel 4"};
                auto& values = draft.series.values;
                values.resize(std::max(values.size(), names.size()));
                std::vector<std::pair<std::string_view, std::string*>> fields{{"beside", &draft.series.extra}, {"beside value", &draft.series.extra_value}};
                for (std::size_t i = 0; i < names.size(); ++i) fields.emplace_back(names[i], &values[i]);
                return fields;
            }
            return {};
        case RunMode::Correcting:
            if (form == EntryForm::Text) return {{"done", &draft.done}, {"text", &draft.value}};
            return {{"done", &draft.done}};
        case RunMode::Deferring:
            return {{"until", &draft.defer.until}, {"owner", &draft.defer.owner}, {"why", &draft.defer.why}};
        case RunMode::Conceding: return {{"by", &draft.concede.by}, {"why", &draft.concede.why}};
        case RunMode::Photo: return {{"caption", &draft.caption}};
        case RunMode::Facts: return {{"fact", &draft.fact}};
        case RunMode::NearMiss: return {{"what", &draft.near_miss}};
        case RunMode::Leaving: return {{"left safe", &draft.leave.left_safe}, {"why", &draft.leave.why}};
        case RunMode::Help:
        case RunMode::Record:
        case RunMode::More:
        case RunMode::Stages:
        case RunMode::Plant:
        case RunMode::Parts:
        case RunMode::House:
        case RunMode::Instrument: break;
    }
    return {};
}

/// Once: what was typed here before the window ended.
void take_up_kept(RunDraft& draft, const CheckView& check) {
    if (!draft.from_before || draft.from_before->job != draft.job || draft.from_before->check != check.id) return;
    const KeptNumber kept = *std::exchange(draft.from_before, std::nullopt);
    draft.place = kept.place;
    draft.value = kept.value;
    draft.unit = kept.unit;
    // Without a figure none was chosen: the one of the check stays.
    if (!kept.instrument.empty()) draft.instrument = kept.instrument;
    for (const FormWord& one : form_words)
        if (one.word == kept.form) draft.mode = one.mode;
    // What was to be corrected may have been put right from elsewhere.
    if (draft.mode == RunMode::Correcting && !may_correct(check)) draft.mode = RunMode::Reading;
    for (const auto& [name, field] : fields_of(draft, form_at_hand(check, draft)))
        if (const auto words = kept.words.find(std::string{name}); words != kept.words.end()) *field = words->second;
    draft.from_earlier = !draft.value.empty() && form_at_hand(check, draft) != EntryForm::Text;
}

}  // namespace

std::string in_one_line(std::string words) {
    for (char& sign : words)
        if (static_cast<unsigned char>(sign) < 0x20U) sign = ' ';
    return words;
}

void move_about(RunDraft& draft, const RunDraft& looked) {
    draft.trail = looked.trail;
    draft.answered = looked.answered;
    draft.wanted = looked.wanted;
    draft.job = looked.job;
    draft.check = looked.check;
    draft.place = looked.place;
    draft.mode = looked.mode;
    draft.go_to = looked.go_to;
    draft.list_asked = looked.list_asked;
    draft.stood_at = looked.stood_at;
    draft.places_looked_at = looked.places_looked_at;
    draft.places_look_frames = looked.places_look_frames;
    draft.look_asked = looked.look_asked;
    // Or it would be asked anew with every answer, in every frame.
    draft.asked = looked.asked;
    draft.plant = looked.plant;
}

void go_to_check(RunDraft& draft, const CheckView& check) {
    if (draft.job != draft.unsaved_of) {
        draft.unsaved.clear();
        draft.unsaved_series.clear();
        draft.unsaved_of = draft.job;
    } else if (!draft.check.empty()) {
        lay_aside(draft);
    }
    clear_typed(draft);
    draft.out_of_turn.clear();
    draft.plant.nearby.clear();
    draft.check = check.id;
    draft.place = first_open_place(check, {});
    if (draft.place.empty() && !check.places.empty()) draft.place = check.places.front().name;
    draft.instrument = check.instruments.empty() ? std::string{} : check.instruments.front().id;
    draft.unit.clear();
    draft.fact.clear();
    const auto series = draft.unsaved_series.find(check.id);
    draft.series = series == draft.unsaved_series.end() ? SeriesDraft{} : series->second;
    take_up_unsaved(draft);
    take_up_kept(draft, check);
}

void go_to_place(RunDraft& draft, const std::string& place) {
    if (place == draft.place) return;
    lay_aside(draft);
    clear_typed(draft);
    draft.place = place;
    take_up_unsaved(draft);
}

const std::vector<desk::InstrumentView>& instruments_at_hand(const CheckView& check, const RunDraft& draft) {
    const PlaceView* place = place_at_hand(check, draft);
    return place != nullptr && !place->question.empty() ? place->instruments : check.instruments;
}

const std::string& instrument_type_at_hand(const CheckView& check, const RunDraft& draft) {
    const PlaceView* place = place_at_hand(check, draft);
    return place != nullptr && !place->question.empty() ? place->instrument_type : check.instrument_type;
}

std::string instrument_at_hand(const CheckView& check, const RunDraft& draft) {
    const PlaceView* place = place_at_hand(check, draft);
    if (place == nullptr || place->question.empty()) return draft.instrument;
    for (const desk::InstrumentView& one : place->instruments)
        if (one.id == draft.instrument) return one.id;
    return place->instruments.empty() ? std::string{} : place->instruments.front().id;
}

std::string typed_text(const RunDraft& draft) {
    return draft.unit.empty() ? draft.value : draft.value + " " + draft.unit;
}

std::string written(const KeptNumber& n) {
    std::string line = n.job + '\t' + n.check + '\t' + n.place + '\t' + n.value + '\t' + n.unit + '\t' + n.instrument + '\t' + n.form;
    for (const auto& [name, words] : n.words) line += '\t' + name + '\t' + words;
    return line + '\n';
}

std::optional<KeptNumber> read_number_kept(std::string_view text) {
    if (text.empty() || text.back() != '\n') return std::nullopt;
    text.remove_suffix(1);
    std::vector<std::string> f{""};
    for (const char sign : text) {
        if (sign == '\t') f.emplace_back();
        else if (static_cast<unsigned char>(sign) < 0x20U) return std::nullopt;  // never written
        else f.back() += sign;
    }
    // Six fields: as versions before wrote them; eight: with what was done behind the form.
    const bool has_form = f.size() >= 7;
    const bool before = f.size() == 8;
    if ((f.size() != 6 && !before && f.size() % 2 == 0) || f.size() < 6 || f[0].empty() || f[1].empty() || f[3].size() > 20 ||
        f[3].find_first_not_of("0123456789.,-") != std::string::npos)
        return std::nullopt;
    KeptNumber kept{f[0], f[1], f[2], f[3], f[4], f[5]};
    if (!has_form) return kept;
    const bool is_of_run = std::any_of(form_words.begin(), form_words.end(), [&](const FormWord& one) { return one.word == f[6]; });
    if (!is_of_run && std::find(forms_elsewhere.begin(), forms_elsewhere.end(), f[6]) == forms_elsewhere.end()) return std::nullopt;
    kept.form = f[6];
    if (before && !f[7].empty()) kept.words["done"] = f[7];
    for (std::size_t i = 7; !before && i + 1 < f.size(); i += 2) {
        if (f[i].empty() || f[i + 1].empty()) return std::nullopt;
        kept.words[f[i]] = f[i + 1];
    }
    return kept;
}

void keep_typed(const desk::JobView& job, const CheckView& check, RunDraft& draft, Requests& requests) {
    // Where the person is, also with nothing typed; a job that is closed is not come back to.
    KeptNumber now;
    const EntryForm form = form_at_hand(check, draft);
    const bool reads = draft.mode == RunMode::Reading || draft.mode == RunMode::Correcting;
    const bool number = form == EntryForm::Number && reads && !draft.value.empty();
    if (job.row.state == "open" || number) now = {draft.job, check.id, draft.place, {}, {}, {}};
    if (number) {
        now.value = draft.value;
        now.unit = draft.unit;
        now.instrument = draft.instrument;
    }
    if (!now.job.empty()) {
        for (const auto& [name, field] : fields_of(draft, form))
            if (!field->empty()) now.words[std::string{name}] = in_one_line(*field);
        if (draft.mode == RunMode::Correcting || !now.words.empty()) now.form = form_word(draft.mode);
    }
    if (now == draft.kept) return;
    draft.kept = now;
    requests.emplace_back(KeepNumber{std::move(now)});
}

const CheckView* check_at_hand(const desk::JobView& job, const RunDraft& draft) {
    for (const CheckView& check : job.checks) {
        if (check.id == draft.check) return &check;
    }
    return nullptr;
}

const PlaceView* place_at_hand(const CheckView& check, const RunDraft& draft) {
    for (const PlaceView& place : check.places) {
        if (place.name == draft.place) return &place;
    }
    return nullptr;
}

EntryForm form_at_hand(const CheckView& check, const RunDraft& draft) {
    const PlaceView* place = place_at_hand(check, draft);
    if (place != nullptr && place->form != EntryForm::None) return place->form;
    return check.form;
}

std::vector<std::string> said_with(const CheckView& check, const RunDraft& draft) {
    const PlaceView* at = place_at_hand(check, draft);
    if (draft.mode == RunMode::Correcting || at == nullptr || !at->question.empty()) return {};
    std::vector<std::string> said;
    for (const PlaceView& place : check.places)
        if (!place.said.empty()) said.push_back(place.said);
    return said;
}

void save_reading(const CheckView& check, std::string text, RunDraft& draft, Requests& requests) {
    desk::TakeReading reading;
    reading.job = draft.job;
    reading.check = check.id;
    reading.place = draft.place;
    const std::string text_sent = text;
    reading.text = std::move(text);
    // An answer in words was not read on the instrument at hand.
    const EntryForm form = form_at_hand(check, draft);
    if (form == EntryForm::Number || form == EntryForm::Series)
        reading.instrument = instrument_at_hand(check, draft);
    reading.caption = draft.caption;
    reading.sure = draft.sure;
    // Only what was shown to be read is said.
    reading.said = draft.said_asked && !said_with(check, draft).empty();
    desk::Intent intent = reading;
    if (draft.mode == RunMode::Correcting) {
        intent = desk::CorrectFault{.reading = std::move(reading), .done = draft.done};
    }
    draft.sent = SentEntry{.check = check.id, .place = draft.place, .value = draft.value, .text = text_sent,
                           .done = draft.done, .caption = draft.caption, .photo_path = draft.photo_path, .mode = draft.mode,
                           .run = std::nullopt, .was_on_its_way = false, .after = draft.answered};
    if (draft.photo_path.empty()) {
        requests.emplace_back(std::move(intent));
    } else {
        requests.emplace_back(WithPhoto{.intent = std::move(intent), .path = draft.photo_path});
    }
    const bool corrected = draft.mode == RunMode::Correcting;
    clear_typed(draft);
    // After a correction the eye waits for its verdict; a first reading goes on to the next place.
    if (corrected) return;
    const std::string next = first_open_place(check, draft.place);
    if (!next.empty()) draft.place = next;
}

namespace {

std::optional<Tone> tone_of(measure::Outcome outcome) {
    using measure::Outcome;
    if (outcome == Outcome::Conforms) return Tone::Conforms;
    if (outcome == Outcome::DoesNotConform) return Tone::DoesNotConform;
    if (outcome == Outcome::Inconclusive) return Tone::Inconclusive;
    return std::nullopt;
}

std::vector<std::string> failing_in(const desk::JobView& job) {
    std::vector<std::string> ids;
    for (const CheckView& check : job.checks)
        if (check.applies && check.outcome == measure::Outcome::DoesNotConform) ids.push_back(check.id);
    return ids;
}

/// Another check that a reading made fail, such as the one that asks whether all instruments used are in date.
const CheckView* fallen_by(const desk::JobView& job, std::string_view read, const std::vector<std::string>& failing) {
    for (const CheckView& check : job.checks)
        if (check.applies && check.id != read && check.outcome == measure::Outcome::DoesNotConform &&
            std::find(failing.begin(), failing.end(), check.id) == failing.end())
            return &check;
    return nullptr;
}

/// Told by ear and in the receipt; where the whole check conforms and the person has not turned elsewhere, the run goes on.
void acknowledge(const World& world, const SentEntry& saved, const std::vector<SeriesRun>& runs, RunDraft& draft,
                 Requests& requests) {
    if (!world.job || world.job->row.job != draft.job) return;
    for (const CheckView& check : world.job->checks) {
        if (check.id != saved.check) continue;
        Receipt receipt{check.id, check.title, saved.place, saved.text, check.outcome, true, world.saved_mark};
        for (const PlaceView& place : check.places) {
            if (place.name == saved.place) receipt.outcome = place.outcome;
            receipt.whole = receipt.whole && (!place.required || place.outcome != measure::Outcome::Open);
        }
        // The figure alone may be right while a part of the check is not.
        if (saved.place.empty() && receipt.outcome == measure::Outcome::Conforms &&
            (check.outcome == measure::Outcome::DoesNotConform || check.outcome == measure::Outcome::Inconclusive))
            receipt.outcome = check.outcome;
        const CheckView* fallen = fallen_by(*world.job, check.id, draft.failing);
        if (fallen != nullptr) receipt.fallen = fallen->title + ": " + fallen->why;
        const auto worse = fallen != nullptr ? measure::Outcome::DoesNotConform : receipt.outcome;
        if (const auto tone = tone_of(worse)) requests.emplace_back(RingTone{*tone, check.id});
        draft.receipt = std::move(receipt);
        draft.verdict_came = true;
        // Who goes through what is only wanted is not led away before its end.
        const PlaceView* read = nullptr;
        for (const PlaceView& place : check.places)
            if (place.name == saved.place) read = &place;
        const bool more_wanted = read != nullptr && !read->required && !first_open_place(check, {}).empty();
        // Nobody is led away while nothing says what was done about a reading that failed.
        const bool stays = fallen != nullptr || more_wanted || check.uncorrected > 0 || draft.check != saved.check || !draft.value.empty() || draft.mode != RunMode::Reading ||
                           check.outcome != measure::Outcome::Conforms;
        // An answer that asks for more leads to what it asks for.
        const bool here = draft.check == saved.check && draft.place == saved.place && draft.value.empty() && draft.mode == RunMode::Reading;
        if (const std::string more = first_open_place(check, {}); here && read != nullptr && read->outcome == measure::Outcome::Conforms &&
                                                                  check.outcome == measure::Outcome::Open && !more.empty())
            return go_to_place(draft, more);
        if (stays) return;
        if (const CheckView* next = next_useful(*world.job, check.id, runs, world.moment.epoch_s)) {
            go_on_to(draft, *next);
            draft.went_on = true;
        }
        return;
    }
}

}  // namespace

void go_on_to(RunDraft& draft, const CheckView& check) {
    if (!draft.check.empty() && draft.check != check.id) draft.trail.push_back(draft.check);
    go_to_check(draft, check);
}

bool go_back(RunDraft& draft, const desk::JobView& job) {
    while (!draft.trail.empty()) {
        const std::string left = std::move(draft.trail.back());
        draft.trail.pop_back();
        for (const CheckView& check : job.checks) {
            if (check.id != left || !check.applies) continue;
            go_to_check(draft, check);
            return true;
        }
    }
    return false;
}

namespace {

void look_after_fact(const World& world, RunDraft& draft) {
    if (!draft.sent_fact) return;
    if (world.saving || world.answered != draft.sent_fact->after) draft.sent_fact->was_on_its_way = true;
    const bool refused = world.refused_since(draft.sent_fact->after);
    if (!draft.sent_fact->was_on_its_way || (!refused && world.saving)) return;
    const SentFact sent = *std::exchange(draft.sent_fact, std::nullopt);
    if (!refused) return;
    draft.mode = sent.mode;
    draft.fact = sent.text;
    if (sent.mode == RunMode::House) draft.house_fact = sent.key;
}

}  // namespace

void look_after_sent(const World& world, RunDraft& draft, std::vector<SeriesRun>& runs, Requests& requests) {
    draft.answered = world.answered;
    look_after_fact(world, draft);
    if (!draft.sent) {
        if (world.job && !world.saving) draft.failing = failing_in(*world.job);
        return;
    }
    if (world.saving || world.answered != draft.sent->after) draft.sent->was_on_its_way = true;
    if (!world.refused_since(draft.sent->after)) {
        if (!draft.sent->was_on_its_way || world.saving) return;
        const SentEntry saved = *std::exchange(draft.sent, std::nullopt);
        return acknowledge(world, saved, runs, draft, requests);
    }
    SentEntry sent = std::move(*draft.sent);
    draft.sent.reset();
    if (sent.run && run_of(runs, sent.run->job, sent.run->check) == nullptr) {
        runs.push_back(*sent.run);
        requests.emplace_back(KeepSeries{runs});
    }
    if (draft.check != sent.check || !draft.value.empty()) return;
    draft.place = sent.place;
    draft.value = sent.value;
    draft.done = sent.done;
    draft.caption = sent.caption;
    draft.photo_path = sent.photo_path;
    draft.mode = sent.mode;
}

bool may_correct(const CheckView& check) {
    return check.form != EntryForm::None && (check.outcome == measure::Outcome::DoesNotConform || check.uncorrected > 0);
}

void go_to_fault(RunDraft& draft, const CheckView& check) {
    const auto is_fault = [](const PlaceView& place) {
        return place.outcome == measure::Outcome::DoesNotConform || place.outcome == measure::Outcome::Inconclusive;
    };
    const PlaceView* here = place_at_hand(check, draft);
    if (here != nullptr && is_fault(*here)) return;
    for (const PlaceView& place : check.places) {
        if (!is_fault(place)) continue;
        clear_typed(draft);
        draft.place = place.name;
        return;
    }
    // All is right by now; the word of what was done belongs to the place that once failed.
    const auto& all = check.readings;
    for (auto failed = all.begin(); failed != all.end(); ++failed) {
        if (failed->undone || failed->outcome != measure::Outcome::DoesNotConform) continue;
        const bool told = std::any_of(failed + 1, all.end(), [&](const desk::ReadingView& later) {
            return !later.undone && !later.corrects.empty() && (later.corrects == failed->entry || later.place == failed->place);
        });
        if (told || failed->place == draft.place) continue;
        clear_typed(draft);
        draft.place = failed->place;
        return;
    }
}

}  // namespace wm::screens
