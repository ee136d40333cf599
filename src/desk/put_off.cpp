#include "desk/put_off.hpp"

#include <algorithm>

#include "desk/view_parts.hpp"

namespace wm::desk {

namespace {

// Whether anything of this check that counts came in after the handover.
bool is_later(const record::JobState& state, const record::CheckState& check, const record::HandoverState& handover) {
    const auto later = [&](const record::Origin& origin) { return origin.order > handover.origin.order && !state.is_undone(origin); };
    return std::any_of(check.readings.begin(), check.readings.end(), [&](const auto& each) { return later(each.origin); }) ||
           std::any_of(check.deferrals.begin(), check.deferrals.end(), [&](const auto& each) { return later(each.origin); }) ||
           std::any_of(check.concessions.begin(), check.concessions.end(), [&](const auto& each) { return later(each.origin); });
}

}  // namespace

const record::HandoverState* first_handover(const record::JobState& state) {
    if (!state.handover) return nullptr;
    // A job that was opened again has a new first report; what went before it is history.
    for (const auto& earlier : state.earlier_handovers)
        if (state.reopenings.empty() || earlier.origin.order > state.reopenings.back().first.order) return &earlier;
    return &*state.handover;
}

bool was_put_off(const record::JobState& state, std::string_view check) {
    const auto* handover = first_handover(state);
    const auto* told = state.check(check);
    if (handover == nullptr || told == nullptr) return false;
    const std::size_t handed = handover->origin.order;
    const record::DeferralState* last = nullptr;
    for (const auto& deferral : told->deferrals)
        if (deferral.origin.order < handed && !state.is_undone(deferral.origin)) last = &deferral;
    if (last == nullptr) return false;
    return std::none_of(told->readings.begin(), told->readings.end(), [&](const record::Reading& reading) {
        return reading.origin.order > last->origin.order && reading.origin.order < handed && !reading.undone_by;
    });
}

bool has_news(const record::JobState& state) {
    return state.handover && std::any_of(state.checks.begin(), state.checks.end(), [&](const auto& check) {
               return is_later(state, check.second, *state.handover);
           });
}

std::vector<std::string> done_since(const record::JobState& state) {
    std::vector<std::string> done;
    const auto* handover = first_handover(state);
    if (handover == nullptr) return done;
    for (const auto& [id, check] : state.checks)
        if (is_later(state, check, *handover)) done.push_back(id);
    return done;
}

std::vector<DueCheck> due_checks(const record::JobState& state) {
    std::vector<DueCheck> due;
    for (const auto& [id, check] : state.checks) {
        if (check.outcome != measure::Outcome::Deferred || !check.deferral) continue;
        const auto& deferred = check.deferral->deferred;
        due.push_back({id, deferred.until, deferred.owner ? record::shown(*deferred.owner) : "", record::shown(deferred.why)});
    }
    std::stable_sort(due.begin(), due.end(), [](const DueCheck& a, const DueCheck& b) { return a.until < b.until; });
    return due;
}

Result<void> open_for(const JobInHand& job, std::string_view check) {
    if (was_put_off(job.state(), check)) return {};
    return still_open(job);
}

}  // namespace wm::desk
