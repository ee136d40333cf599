// Moving among checks and places, and turning what was typed into a request.
#include "screens/run_draft.hpp"

#include <utility>

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

void clear_typed(RunDraft& draft) {
    draft.value.clear();
    draft.done.clear();
    draft.photo_path.clear();
    draft.caption.clear();
    draft.asked.reset();
    draft.sure = false;
    draft.mode = RunMode::Reading;
}

}  // namespace

void go_to_check(RunDraft& draft, const CheckView& check) {
    clear_typed(draft);
    draft.check = check.id;
    draft.place = first_open_place(check, {});
    if (draft.place.empty() && !check.places.empty()) draft.place = check.places.front().name;
    draft.instrument = check.instruments.empty() ? std::string{} : check.instruments.front().id;
    draft.fact.clear();
    draft.series = {};
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

void save_reading(const CheckView& check, std::string text, RunDraft& draft, Requests& requests) {
    desk::TakeReading reading;
    reading.job = draft.job;
    reading.check = check.id;
    reading.place = draft.place;
    reading.text = std::move(text);
    // An answer in words was not read on the instrument at hand.
    const EntryForm form = form_at_hand(check, draft);
    if (form == EntryForm::Number || form == EntryForm::Series)
        reading.instrument = draft.instrument;
    reading.caption = draft.caption;
    reading.sure = draft.sure;
    desk::Intent intent = reading;
    if (draft.mode == RunMode::Correcting) {
        intent = desk::CorrectFault{.reading = std::move(reading), .done = draft.done};
    }
    draft.sent = SentEntry{.check = check.id, .place = draft.place, .value = draft.value, .done = draft.done,
                           .caption = draft.caption, .photo_path = draft.photo_path, .mode = draft.mode,
                           .run = std::nullopt, .was_on_its_way = false};
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

void look_after_sent(const World& world, RunDraft& draft, std::vector<SeriesRun>& runs, Requests& requests) {
    if (!draft.sent) return;
    if (world.saving) draft.sent->was_on_its_way = true;
    if (!world.problem) {
        if (draft.sent->was_on_its_way && !world.saving) draft.sent.reset();
        return;
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
}

}  // namespace wm::screens
