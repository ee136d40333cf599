#include "desk/owner.hpp"

#include <algorithm>
#include <array>

#include "desk/permission.hpp"
#include "desk/view_parts.hpp"
#include "digest/text.hpp"

namespace wm::desk {

namespace {

bool says_whose_work_it_is(std::string_view name) {
    constexpr std::array<std::string_view, 3> ours{"crew", "the crew", "office"};
    return std::find(ours.begin(), ours.end(), name) != ours.end();
}

bool is_of_its_crew(const record::JobState& job, std::string_view name) {
    return is_among(fact_text(job, "crew.lead"), name) || is_among(fact_text(job, "crew.members"), name);
}

}  // namespace

Result<bool> is_one_of_ours(Desk& desk, const record::JobState& job, const std::string& name) {
    if (name.empty() || name == fact_text(job, "customer.name")) return false;
    if (says_whose_work_it_is(name) || is_of_its_crew(job, name)) return true;
    const auto people = desk.journal().people();
    if (!people) return tl::unexpected(people.error());
    if (std::any_of(people->begin(), people->end(), [&](const store::Person& person) { return person.name == name; })) return true;
    const auto rows = desk.job_rows();
    if (!rows) return tl::unexpected(rows.error());
    return std::any_of(rows->begin(), rows->end(), [&](const JobRow& row) { return is_among(row.crew, name); });
}

Result<std::optional<record::Personal>> locked_owner(Desk& desk, const record::JobState& job, const std::string& name) {
    if (name.empty()) return std::optional<record::Personal>{};
    const std::string words = digest::composed(name);
    const auto ours = is_one_of_ours(desk, job, words);
    if (!ours) return tl::unexpected(ours.error());
    if (!*ours) return std::optional{record::Personal::said(words)};
    auto locked = desk.journal().said_by_house(words);
    if (!locked) return tl::unexpected(locked.error());
    return std::optional{std::move(*locked)};
}

Result<void> keep_owners(Desk& desk, const std::string& customer) {
    const auto jobs = desk.journal().jobs();
    if (!jobs) return tl::unexpected(jobs.error());
    std::vector<record::Draft> drafts;
    for (const auto& line : *jobs) {
        const auto entries = desk.journal().read_job(line.job);
        if (!entries) return tl::unexpected(entries.error());
        if (!entries->damaged.empty()) continue;  // nothing is written into such a job
        const auto state = record::folded(line.job, entries->entries);
        if (!state.opened || state.opened->customer != customer) continue;
        for (const auto& [id, check] : state.checks) {
            for (const auto& [origin, deferred] : check.deferrals) {
                if (!deferred.owner || !deferred.owner->text) continue;
                const auto kept = desk.journal().is_of_house(*deferred.owner);
                if (!kept) return tl::unexpected(kept.error());
                if (*kept) continue;
                const auto ours = is_one_of_ours(desk, state, *deferred.owner->text);
                if (!ours) return tl::unexpected(ours.error());
                if (*ours) drafts.push_back({line.job, record::OwnerKept{origin.entry, record::Personal::said(*deferred.owner->text)}});
            }
        }
    }
    if (drafts.empty()) return {};
    const auto written = desk.journal().append({.wall_ms = desk.setup().now().wall_ms, .customer = "", .drafts = std::move(drafts)});
    if (!written) return tl::unexpected(written.error());
    return {};
}

}  // namespace wm::desk
