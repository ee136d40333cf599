#include "desk/house_jobs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>

namespace wm::desk {

namespace {

bool is_visit(const JobRow& row) { return row.kind == "service" || row.kind == "revisit"; }

/// A word of the weights in failures.toml, or "not asked".
std::string state_of(const checklist::Check& check, const Standing& standing, const record::CheckState* kept) {
    if (kept != nullptr && kept->concession) return "accepted as it is";
    switch (standing.outcome) {
        case Outcome::DoesNotConform: return "does not conform";
        case Outcome::Inconclusive: return "in doubt";
        case Outcome::Deferred: return "put off";
        case Outcome::NotApplicable: return "not asked";
        case Outcome::Conforms: return kept != nullptr && !kept->failures.empty() ? "put right" : "conforms";
        case Outcome::Open: break;
    }
    return check.core || check.hold ? "never read" : "left out";
}

bool is_silent(const std::string& state) { return state == "never read" || state == "left out"; }

std::string sentence_of(const CatchView& row) {
    if (row.state == "does not conform") return fmt::format("{}: does not conform in {}", row.title, row.job);
    if (row.state == "accepted as it is") return fmt::format("{}: accepted as it is in {}", row.title, row.job);
    if (row.state == "in doubt") return fmt::format("{}: could not be told from its limit in {}", row.title, row.job);
    if (row.state == "put off") return fmt::format("{}: put off in {}, still to be read", row.title, row.job);
    if (row.state == "put right") return fmt::format("{}: failed first and was put right in {}", row.title, row.job);
    if (row.state == "conforms") return fmt::format("{}: conforms in {}", row.title, row.job);
    if (row.state == "left out") return fmt::format("{}: left out in {}, not of the core run", row.title, row.job);
    return fmt::format("{}: never read in {}", row.title, row.job);
}

}  // namespace

std::string check_title(const checklist::Library& library, const std::string& id) {
    for (const auto& list : library.checklists)
        if (const auto* check = list.find(checklist::CheckId{id})) return check->title;
    return id;
}

std::vector<const JobRow*> jobs_of_house(const std::vector<JobRow>& rows, std::string_view job) {
    std::set<std::string_view> known{job};
    std::vector<const JobRow*> found;
    for (bool grows = true; grows;) {
        grows = false;
        for (const auto& row : rows) {
            const bool linked = known.contains(row.job) || (!row.after.empty() && known.contains(row.after));
            if (!linked || std::find(found.begin(), found.end(), &row) != found.end()) continue;
            found.push_back(&row);
            known.insert(row.job);
            if (!row.after.empty()) known.insert(row.after);
            grows = true;
        }
    }
    std::stable_sort(found.begin(), found.end(), [](const JobRow* a, const JobRow* b) { return std::tie(a->started, a->job) < std::tie(b->started, b->job); });
    return found;
}

Result<HouseRecord> record_of_house(Desk& desk, const std::vector<const JobRow*>& jobs) {
    HouseRecord record;
    for (const auto* row : jobs) {
        const auto hand = desk.in_hand(row->job);
        if (!hand) return tl::unexpected(hand.error());
        Assessment assessment{*hand};
        for (const auto& check : hand->list->checks) {
            const auto& standing = assessment.of(check);
            if (standing.applies.answer == checklist::Applies::No) continue;
            CatchView now{.check = check.id.text, .title = check.title, .job = row->job,
                          .state = state_of(check, standing, hand->state().check(check.id.text)), .words = ""};
            if (now.state == "not asked" || (is_silent(now.state) && is_visit(*row) && row->state == "open")) continue;
            const auto before = record.find(now.check);
            // What an earlier job found out is not undone by a later one that did not look.
            if (before != record.end() && is_silent(now.state)) continue;
            now.words = sentence_of(now);
            record.insert_or_assign(now.check, std::move(now));
        }
    }
    return record;
}

}  // namespace wm::desk
