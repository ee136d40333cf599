#include "desk/house_history.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>

#include "checklist/facts.hpp"
#include "desk/complaints.hpp"
#include "desk/house_jobs.hpp"
#include "desk/view_parts.hpp"

namespace wm::desk {

namespace {

// What is fitted, by the table a fact stands in: the set, its numbers and batches, roof and heater. Nothing of who lives there.
constexpr std::array<std::string_view, 5> tables = {"sys.", "serial.", "batch.", "roof.", "heater."};

bool is_of_the_set(const std::string& key) {
    return std::any_of(tables.begin(), tables.end(), [&](std::string_view table) { return key.starts_with(table); });
}

std::vector<std::pair<std::string, std::string>> fitted_in(const JobInHand& hand) {
    std::vector<std::pair<std::string, std::string>> rows;
    for (const auto& spec : checklist::fact_table()) {
        const std::string key{spec.key};
        if (!is_of_the_set(key) || spec.personal) continue;
        const auto* words = hand.state().fact(key);
        // A value that was locked as a person's words is left out, whatever the table says.
        const auto* text = words == nullptr ? nullptr : std::get_if<std::string>(words);
        if (text == nullptr) continue;
        const bool bare = !spec.unit.empty() && text->find_first_not_of("0123456789.,-") == std::string::npos;
        rows.emplace_back(std::string{spec.meaning}, bare ? fmt::format("{} {}", *text, spec.unit) : *text);
    }
    return rows;
}

HouseVisitView visit_of(const JobInHand& hand, const JobRow& row) {
    const auto& state = hand.state();
    HouseVisitView visit{.job = row.job, .kind = row.kind, .day = row.started.substr(0, 10), .state = row.state,
                         .checklist = fmt::format("{}, version {}", state.opened->checklist, state.opened->checklist_version),
                         .conforming = 0, .put_right = {}, .not_right = {}, .reports = {}};
    for (const auto& check : hand.list->checks) {
        const auto* kept = state.check(check.id.text);
        if (kept == nullptr) continue;
        if (kept->concession) visit.not_right.push_back(check.title + ": accepted as it is");
        else if (kept->outcome == Outcome::DoesNotConform || kept->outcome == Outcome::Inconclusive || kept->outcome == Outcome::Deferred)
            visit.not_right.push_back(fmt::format("{}: {}", check.title, measure::in_words(kept->outcome)));
        if (kept->outcome != Outcome::Conforms) continue;
        ++visit.conforming;
        if (!kept->failures.empty()) visit.put_right.push_back(check.title);
    }
    for (const auto& handover : state.earlier_handovers) visit.reports.push_back(handover.handed.pdf_sha256);
    if (state.handover) visit.reports.push_back(state.handover->handed.pdf_sha256);
    return visit;
}

void add_calls(HouseHistoryView& history, const record::JobState& state, const checklist::FailureList& list, const checklist::Library& library) {
    for (const auto* complaint : state.standing_complaints()) {
        const auto& told = complaint->told;
        const auto* symptom = list.symptom(told.symptom);
        HouseCallView call{.complaint = told.complaint, .day = told.told_at.substr(0, 10), .symptom = symptom ? symptom->words : told.symptom,
                           .air = told.air, .cause = "", .check = "", .closed = ""};
        if (const auto* closed = state.closing_of(*complaint)) {
            const auto* failure = list.failure(closed->cause);
            call.cause = failure ? failure->mode : closed->cause;
            if (!closed->check.empty()) call.check = check_title(library, closed->check);
            call.closed = closed->closed_at.substr(0, 10);
        }
        history.calls.push_back(std::move(call));
    }
}

}  // namespace

Result<HouseHistoryView> house_history(Desk& desk, const std::string& job) {
    const auto asked = desk.in_hand(job);
    if (!asked) return tl::unexpected(asked.error());
    const auto rows = desk.job_rows();
    if (!rows) return tl::unexpected(rows.error());
    const auto failures = failure_list(desk);
    if (!failures) return tl::unexpected(failures.error());
    HouseHistoryView history{.job = job, .place = place_of(asked->state()), .fitted = {}, .visits = {}, .calls = {}};
    for (const auto* row : jobs_of_house(*rows, job)) {
        if (row->practice) continue;
        const auto hand = desk.in_hand(row->job);
        if (!hand) return tl::unexpected(hand.error());
        history.visits.push_back(visit_of(*hand, *row));
        add_calls(history, hand->state(), *failures, desk.library());
        // The newest job knows best what hangs there now.
        if (auto fitted = fitted_in(*hand); !fitted.empty()) history.fitted = std::move(fitted);
    }
    std::stable_sort(history.calls.begin(), history.calls.end(), [](const HouseCallView& a, const HouseCallView& b) { return a.day < b.day; });
    return history;
}

}  // namespace wm::desk
