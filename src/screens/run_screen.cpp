// Arrangement of the run in landscape, portrait and on small panels.
#include "screens/run_screen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "screens/check_panel.hpp"
#include "screens/help_panel.hpp"
#include "screens/house_sheet.hpp"
#include "screens/more_panel.hpp"
#include "screens/next_check.hpp"
#include "screens/parts_sheet.hpp"
#include "screens/photo_panel.hpp"
#include "screens/plant_panel.hpp"
#include "screens/record_panel.hpp"

namespace wm::screens {
namespace {

using desk::CheckView;
using desk::JobView;
using measure::Outcome;

/// The neighbour of the check at hand among those that apply.
const CheckView* neighbour(const JobView& job, std::string_view from, int by) {
    const int count = static_cast<int>(job.checks.size());
    int here = -1;
    for (int i = 0; i < count; ++i) {
        if (job.checks[static_cast<std::size_t>(i)].id == from) here = i;
    }
    for (int i = here + by; i >= 0 && i < count; i += by) {
        const CheckView& check = job.checks[static_cast<std::size_t>(i)];
        if (check.applies) return &check;
    }
    return nullptr;
}

const CheckView* first_to_do(const JobView& job) {
    for (const CheckView& check : job.checks) {
        if (check.applies && check.outcome == Outcome::Open) return &check;
    }
    for (const CheckView& check : job.checks) {
        if (check.applies) return &check;
    }
    return nullptr;
}

const CheckView* first_in_stage(const JobView& job, std::string_view stage) {
    const CheckView* first = nullptr;
    for (const CheckView& check : job.checks) {
        if (!check.applies || check.stage != stage) continue;
        if (check.outcome == Outcome::Open) return &check;
        if (first == nullptr) first = &check;
    }
    return first;
}

void take_up_job(const JobView& job, RunDraft& draft) {
    if (draft.wanted) {
        const std::string id = draft.wanted->check;
        const RunMode mode = draft.wanted->mode;
        draft.wanted.reset();
        if (draft.job != job.row.job) {
            draft.receipt.reset();
            draft.trail.clear();
        }
        draft.job = job.row.job;
        for (const CheckView& check : job.checks) {
            if (check.id != id || !check.applies) continue;
            go_to_check(draft, check);
            // A correction that was half written comes back as one.
            if (mode != RunMode::Reading) draft.mode = mode;
            return;
        }
        draft.check.clear();
    }
    if (draft.job == job.row.job && check_at_hand(job, draft) != nullptr) return;
    draft.job = job.row.job;
    draft.receipt.reset();
    draft.trail.clear();
    if (const CheckView* first = first_to_do(job)) go_to_check(draft, *first);
}

/// True while a job that was asked for is not the one that is open; where none is, one that is not there does not come.
bool still_opening(const World& world, const RunDraft& draft) {
    if (!draft.wanted || (world.job && world.job->row.job == draft.wanted->job)) return false;
    const bool looked = world.listed && !world.saving;
    return world.job || !looked || std::any_of(world.jobs.begin(), world.jobs.end(),
                                  [&](const desk::JobRow& row) { return row.job == draft.wanted->job; });
}

void stage_keys(Touch& touch, const Rect& at, const JobView& job, const CheckView& at_hand,
                RunDraft& draft) {
    const Scope scope{touch, "stage"};
    const int count = static_cast<int>(job.stages.size());
    if (count == 0) return;
    const int most = fitting(at.w, touch.key_side(), touch.gap());
    const int rows = rows_for(count, most);
    const Grid grid{.area = at,
                    .per_row = rows_for(count, rows),
                    .height = touch.key_side(),
                    .gap = touch.gap()};
    for (int i = 0; i < count; ++i) {
        const desk::StageView& stage = job.stages[static_cast<std::size_t>(i)];
        const std::string done = fmt::format("{}/{}", stage.done, stage.total);
        const std::string words = stage.done == stage.total ? stage.id + " ✓" : stage.id;
        if (key(touch, stage.id, grid.cell(i),
                {.words = words,
                 .small = done,
                 .state = stage.id == at_hand.stage ? KeyState::Chosen : KeyState::Ready})) {
            if (const CheckView* first = first_in_stage(job, stage.id)) go_to_check(draft, *first);
            draft.plant.part.reset();
            draft.plant.nearby.clear();
        }
    }
}

void stage_sheet(Touch& touch, const Rect& at, const JobView& job, const CheckView& at_hand,
                 RunDraft& draft) {
    Rect rest = at;
    const int most = fitting(at.w, touch.key_side(), touch.gap());
    const int rows = rows_for(static_cast<int>(job.stages.size()), most);
    const float height = static_cast<float>(rows) * (touch.key_side() + touch.gap());
    // Words are searched in all stages, beside the letters on the glass.
    if (draft.plant.shows != ListShows::Found) stage_keys(touch, cut_top(rest, height), job, at_hand, draft);
    if (const auto id = check_list(touch, rest, job, {at_hand.stage, at_hand.id}, draft.plant)) {
        for (const CheckView& check : job.checks) {
            if (check.id == *id) go_to_check(draft, check);
        }
    }
}

void go_to_id(const JobView& job, RunDraft& draft, const std::optional<std::string>& id) {
    if (!id) return;
    for (const CheckView& check : job.checks) {
        if (check.id == *id) go_to_check(draft, check);
    }
}

enum class Room { Wide, Tall, Small };

Room room_for(const Touch& touch, const Rect& at) {
    // Large words need the room that drawing and list would take; both are one touch away then.
    const float letters = touch.metrics.text_scale() > 1.6F ? 1.5F : 1.0F;
    if (at.w >= touch.mm(270.0F * letters) && at.h >= touch.mm(150.0F * letters)) return Room::Wide;
    if (at.w >= touch.mm(170.0F * letters) && at.h >= touch.mm(240.0F * letters)) return Room::Tall;
    return Room::Small;
}

struct NavKey {
    std::string_view name;
    std::string words;
    KeyState state = KeyState::Ready;
    KeyRole role = KeyRole::Plain;
    std::string small = {};
    std::string_view why = {};
};

KeyState mode_state(const RunDraft& draft, RunMode mode) {
    return draft.mode == mode ? KeyState::Chosen : KeyState::Ready;
}

void flip(RunDraft& draft, RunMode mode) {
    draft.mode = draft.mode == mode ? RunMode::Reading : mode;
}

/// Where the run stands: the job, the check at hand, and what is useful after it.
struct Standing {
    const JobView& job;
    const CheckView& check;
    const CheckView* next;
    int passed;  ///< open checks between the two that wait for a hold point
};

bool has_typed(const RunDraft& draft) { return !draft.value.empty() || (draft.mode == RunMode::Correcting && !draft.done.empty()); }

std::vector<NavKey> nav_keys(const Standing& at, const RunDraft& draft, Room room) {
    const auto& [job, check, next, passed] = at;
    std::vector<NavKey> keys;
    keys.push_back({"previous", "◀ Previous",
                    !draft.trail.empty() || neighbour(job, check.id, -1) ? KeyState::Ready : KeyState::Blocked, KeyRole::Plain, "",
                    "This is the first check of the job."});
    if (room == Room::Small) {
        // Fewer are open after one that failed too, which is no progress.
        const auto failing = draft.failing.size();
        keys.push_back({"stages", fmt::format("{} open", still_open(job)),
                        mode_state(draft, RunMode::Stages), KeyRole::Plain, failing > 0 ? fmt::format("{} failed", failing) : std::string{}});
    }
    keys.push_back({"plant", "Plant", mode_state(draft, RunMode::Plant)});
    const bool pictured = !draft.photo_path.empty() || std::any_of(check.readings.begin(), check.readings.end(),
                                                                   [](const auto& reading) { return !reading.photos.empty(); });
    keys.push_back({"photo", check.photo == "required" ? "Photo !" : "Photo", mode_state(draft, RunMode::Photo), KeyRole::Plain,
                    !pictured && check.photo == "wanted" ? "wanted here" : ""});
    // Always there: a row that moved under the finger would answer with another key.
    keys.push_back({"corrected", "Put right",
                    may_correct(check) ? mode_state(draft, RunMode::Correcting) : KeyState::Blocked, KeyRole::Plain,
                    may_correct(check) ? "" : check.outcome == Outcome::DoesNotConform ? "worked out" : "no fault here",
                    check.outcome == Outcome::DoesNotConform ? "This is worked out from other checks: put those right."
                                                             : "Nothing failed here, so there is nothing to put right."});
    keys.push_back({"more", "More", mode_state(draft, RunMode::More)});
    keys.push_back({"undo", "Undo", KeyState::Ready, KeyRole::Plain, has_typed(draft) ? "what is typed" : "the last entry"});
    keys.push_back({"next", next != nullptr ? "Next ▶" : "Sign-off ▶", KeyState::Ready,
                    check.outcome == Outcome::Conforms ? KeyRole::Primary : KeyRole::Plain,
                    next == nullptr ? "nothing is left to read"
                    : passed == 0   ? next->title
                                    : fmt::format("skips {} waiting", passed)});
    return keys;
}

void nav_deed(std::string_view name, const Standing& at, RunDraft& draft, Requests& requests) {
    const auto& [job, check, next, passed] = at;
    (void)passed;
    if (name == "stages") flip(draft, RunMode::Stages);
    if (name == "plant") flip(draft, RunMode::Plant);
    if (name == "photo") {
        flip(draft, RunMode::Photo);
        // What the camera put there since the folder was looked at.
        if (draft.mode == RunMode::Photo) requests.emplace_back(AskFiles{});
    }
    if (name == "corrected") {
        if (draft.mode != RunMode::Correcting) go_to_fault(draft, check);
        flip(draft, RunMode::Correcting);
    }
    if (name == "more") flip(draft, RunMode::More);
    if (name == "undo" && has_typed(draft)) {
        // The nearest is taken back first: what is typed here, not what was saved at another check.
        if (draft.value.empty()) draft.done.clear();
        draft.value.clear();
        draft.sure = draft.said_asked = false;
        draft.from_earlier = false;
    } else if (name == "undo") {
        draft.receipt.reset();
        draft.follows_undo = true;
        requests.emplace_back(desk::Intent{desk::UndoLast{job.row.job}});
    }
    if (name == "previous" && !go_back(draft, job))
        if (const CheckView* other = neighbour(job, check.id, -1)) go_to_check(draft, *other);
    if (name != "next") return;
    draft.wants_sign_off = next == nullptr;
    if (next != nullptr) go_on_to(draft, *next);
}

/// As many words as stand in one line of a key; nothing where that says too little.
std::string first_words(const Touch& touch, std::string_view words, float width) {
    if (touch.metrics.text_percent > 100) return {};
    // Letters are half as wide as they are high, in the mean.
    const auto most = static_cast<std::size_t>(width / (0.56F * em_px(Face::Small, touch.metrics)));
    if (words.size() <= most) return std::string{words};
    const std::size_t cut = words.substr(0, most).rfind(' ');
    return cut == std::string_view::npos || cut < 8 ? std::string{} : std::string{words.substr(0, cut)} + " …";
}

void nav_row(Touch& touch, const Rect& at, const Standing& standing, RunDraft& draft, Room room, Requests& requests) {
    const std::vector<NavKey> keys = nav_keys(standing, draft, room);
    const std::vector<Rect> cells = columns(at, static_cast<int>(keys.size()), touch.gap());
    std::string_view pressed;
    for (std::size_t i = 0; i < keys.size() && at.h > 0.0F; ++i) {
        const std::string small = first_words(touch, keys[i].small, cells[i].w - touch.mm(5.0F));
        if (key(touch, keys[i].name, cells[i],
                {.words = keys[i].words, .small = small, .role = keys[i].role, .state = keys[i].state, .why = keys[i].why})) {
            pressed = keys[i].name;
        }
    }
    if (touch.typing.take(Stroke::PageUp)) pressed = "previous";
    if (touch.typing.take(Stroke::PageDown)) pressed = "next";
    if (touch.typing.take(Stroke::Undo) && !touch.is_deaf()) pressed = "undo";
    if (pressed == "undo") touch.be_deaf_for(unread_s);
    if (touch.typing.take(Stroke::Escape)) draft.mode = RunMode::Reading;
    nav_deed(pressed, standing, draft, requests);
}

void middle(Touch& touch, const Rect& at, const JobView& job, const CheckView& check,
            const World& world, RunDraft& draft, std::vector<SeriesRun>& runs, Requests& requests) {
    switch (draft.mode) {
        case RunMode::Reading:
        case RunMode::Correcting:
            return check_panel(touch, at, check, world, draft, runs, requests);
        case RunMode::Photo:
            return photo_panel(touch, at, check, world, draft, requests);
        case RunMode::Help:
            return help_panel(touch, at, check, draft);
        case RunMode::Record:
            return record_panel(touch, at, check, draft);
        case RunMode::Stages:
            return stage_sheet(touch, at, job, check, draft);
        case RunMode::Plant:
            return go_to_id(job, draft, plant_sheet(touch, at, job, check.id, draft.plant));
        case RunMode::Parts:
            return parts_sheet(touch, at, world, draft, requests);
        case RunMode::House:
            return house_sheet(touch, at, job, draft, requests);
        case RunMode::More:
        case RunMode::Deferring:
        case RunMode::Conceding:
        case RunMode::Facts:
        case RunMode::NearMiss:
        case RunMode::Leaving:
        case RunMode::Instrument:
            return more_panel(touch, at, check, world, draft, requests);
    }
}

void beside(Touch& touch, const Rect& drawing_at, const Rect& list_at, const JobView& job,
            const CheckView& check, RunDraft& draft) {
    go_to_id(job, draft, plant_panel(touch, drawing_at, job, check.id, draft.plant));
    go_to_id(job, draft, check_list(touch, list_at, job, {check.stage, check.id}, draft.plant));
}

}  // namespace

void run_screen(Touch& touch, const Rect& at, const World& world, RunDraft& draft,
                std::vector<SeriesRun>& runs, Requests& requests) {
    const Scope scope{touch, "run"};
    if (still_opening(world, draft)) {
        prose(touch, at, "Opening job " + draft.wanted->job + " …", Face::Body, touch.theme.text);
        return;
    }
    if (!world.job) {
        prose(touch, at, "No job is open. Choose one on the screen Jobs (F2).", Face::Body,
              touch.theme.text);
        return;
    }
    const JobView& job = *world.job;
    take_up_job(job, draft);
    look_after_sent(world, draft, runs, requests);
    const CheckView* check = check_at_hand(job, draft);
    if (check == nullptr) {
        prose(touch, at, "This job has no checks.", Face::Body, touch.theme.text);
        return;
    }
    if (!draft.go_to.empty()) {
        go_to_id(job, draft, std::exchange(draft.go_to, {}));
        check = check_at_hand(job, draft);
    }
    if (draft.follows_undo && world.undone && world.undone->first == world.answered) {
        draft.follows_undo = false;
        go_to_id(job, draft, world.undone->second);
        check = check_at_hand(job, draft);
    }
    const Room room = room_for(touch, at);
    // A glass that was turned or widened has both beside the check again.
    if (draft.mode == RunMode::Stages && room != Room::Small) draft.mode = RunMode::Reading;
    Rect rest = at;
    // While letters are written on the glass there is no room for the row, and no need of it.
    const bool crowded = at.h < touch.mm(80.0F);
    const Rect nav = crowded ? Rect{} : cut_bottom(rest, touch.key_side(), touch.gap());
    if (room != Room::Small) {
        const int most = fitting(at.w, touch.key_side(), touch.gap());
        const auto rows = static_cast<float>(rows_for(static_cast<int>(job.stages.size()), most));
        const float height = rows * touch.key_side() + (rows - 1.0F) * touch.gap();
        stage_keys(touch, cut_top(rest, height, touch.gap()), job, *check, draft);
    }
    if (room == Room::Wide) {
        Rect left = cut_left(rest, rest.w * 0.37F, touch.mm(5.0F));
        const Rect drawing_at = cut_top(left, left.w * 0.66F, touch.gap());
        beside(touch, drawing_at, left, job, *check, draft);
    }
    if (room == Room::Tall) {
        Rect top = cut_top(rest, touch.mm(76.0F), touch.mm(4.0F));
        const Rect drawing_at = cut_left(top, top.w * 0.56F, touch.gap());
        beside(touch, drawing_at, top, job, *check, draft);
    }
    // Letters on the glass leave no room for a list beside the check: what is searched goes before it.
    const bool searched = room == Room::Small && draft.plant.shows == ListShows::Found && draft.mode == RunMode::Reading;
    if (searched) stage_sheet(touch, rest, job, *check, draft);
    else middle(touch, rest, job, *check, world, draft, runs, requests);
    keep_typed(job, *check, draft, requests);
    if (just_came(draft)) touch.attention.why.clear();
    if (just_came(draft)) touch.be_deaf_for(std::exchange(draft.went_on, false) ? unread_s : bounce_s);
    draft.stood_at = stands_at(draft);
    if (draft.mode == RunMode::Reading) draft.verdict_came = false;
    const CheckView* next = next_useful(job, check->id, runs, world.moment.epoch_s);
    nav_row(touch, nav, {job, *check, next, next == nullptr ? 0 : waiting_between(job, check->id, next->id)}, draft, room, requests);
}

}  // namespace wm::screens
