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
    if (draft.photo_path.empty()) {
        requests.emplace_back(std::move(intent));
    } else {
        requests.emplace_back(WithPhoto{.intent = std::move(intent), .path = draft.photo_path});
    }
    clear_typed(draft);
    const std::string next = first_open_place(check, draft.place);
    if (!next.empty()) draft.place = next;
}

}  // namespace wm::screens
