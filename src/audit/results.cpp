#include "audit/results.hpp"

#include <algorithm>
#include <iterator>

#include "audit/traces.hpp"
#include "audit/withdrawn.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

using measure::Outcome;

std::string fact(const record::JobState& job, std::string_view key) {
    const auto* words = job.fact(key);
    return words ? record::shown(*words) : "";
}

std::map<std::string, std::string> batches_of(const record::JobState& job) {
    std::map<std::string, std::string> batches;
    for (const auto& [key, name] :
         {std::pair{"batch.relief", "relief valve"}, std::pair{"batch.limit", "limiting valve"},
          std::pair{"batch.tempering", "tempering valve"}, std::pair{"batch.hook", "roof hook"},
          std::pair{"sys.fluid_batch", "fluid"}, std::pair{"sys.fluid", "fluid kind"}})
        if (auto text = fact(job, key); !text.empty()) batches.emplace(name, std::move(text));
    return batches;
}

/// What waits in a check that nobody put off, in words; nullopt where nothing does.
std::optional<std::string> waiting_in_words(const record::CheckState& check) {
    const bool is_unproved = check.outcome == Outcome::DoesNotConform || check.outcome == Outcome::Inconclusive;
    if (is_unproved && !check.concession) return std::string{measure::in_words(check.outcome)};
    return withdrawn_in_words(check);
}

void add_results(AuditTable& table, const record::JobState& job, JobCard card) {
    std::vector<CheckResult> results;
    const auto seconds = seconds_of_checks(job);
    for (const auto& [id, check] : job.checks) {
        CheckResult result{.job = table.jobs.size(), .check = id, .failed = false, .inconclusive = false,
                           .corrected = false, .outcome = std::string{measure::in_words(check.outcome)}, .day = ""};
        std::map<std::string, bool> seen;
        for (const auto& reading : check.readings) {
            if (reading.undone_by || !seen.emplace(reading.taken.place, true).second) continue;
            const Outcome first = reading.judgements.front().place_outcome;
            result.failed = result.failed || first == Outcome::DoesNotConform;
            result.inconclusive = result.inconclusive || first == Outcome::Inconclusive;
            const auto day = day_of(reading);
            if (result.day.empty() || day < result.day) result.day = day;
        }
        if (result.failed) result.inconclusive = false;
        result.corrected = (result.failed || result.inconclusive) && check.outcome == Outcome::Conforms;
        if (const auto took = seconds.find(id); took != seconds.end()) result.seconds = took->second;
        if (!result.day.empty()) {
            if (card.day.empty() || result.day < card.day) card.day = result.day;
            results.push_back(std::move(result));
        }
    }
    auto deferrals = deferrals_of(job, table.jobs.size());
    auto complaints = complaints_of(job, table.jobs.size());
    // Nothing was read, and yet somebody waits: that counts among what is open, and for no share.
    if (results.empty() && deferrals.empty() && complaints.empty()) return;
    if (!results.empty()) card.week = units::week_of(card.day).value_or("");
    for (const auto& [id, check] : job.checks) {
        if (check.deferral) {
            const auto& deferred = check.deferral->deferred;
            table.open.push_back({table.jobs.size(), id, deferred.owner ? record::shown(*deferred.owner) : "",
                                  "deferred until " + deferred.until, check.deferral->origin.time.substr(0, 10)});
        } else if (const auto waits = waiting_in_words(check)) {
            // What was withdrawn was never proved: it waits since it was read, and so in the weeks before the withdrawal too.
            std::string since = card.day;
            for (const auto& result : results)
                if (result.check == id) since = result.day;
            table.open.push_back({table.jobs.size(), id, card.crew, *waits, since});
        }
    }
    std::ranges::move(deferrals, std::back_inserter(table.deferrals));
    std::ranges::move(gauge_readings(job, table.jobs.size()), std::back_inserter(table.gauges));
    std::ranges::move(uses_of(job, table.jobs.size()), std::back_inserter(table.uses));
    std::ranges::move(complaints, std::back_inserter(table.complaints));
    table.traces.push_back(trace_of(job, table.jobs.size()));
    table.results.insert(table.results.end(), results.begin(), results.end());
    table.jobs.push_back(std::move(card));
}

}  // namespace

std::string title_of(const CheckCards& cards, const std::string& check) {
    const auto found = cards.find(check);
    return found == cards.end() || found->second.title.empty() ? check : found->second.title;
}

AuditTable audit_table(std::span<const record::JobState> jobs) {
    AuditTable table;
    for (const auto& job : jobs) {
        if (!job.opened || job.opened->practice) continue;
        add_results(table, job,
                    {.job = job.number,
                     .crew = fact(job, "crew.lead"),
                     .street = fact(job, "site.street"),
                     .roof = fact(job, "roof.covering"),
                     .system = fact(job, "sys.kind"),
                     .vulnerable = fact(job, "customer.vulnerable") == "yes" || fact(job, "customer.vulnerable") == "true",
                     .day = "",
                     .week = "",
                     .batches = batches_of(job),
                     .kind = job.opened->kind,
                     .frost_class = fact(job, "site.frost_class"),
                     .after = job.opened->after_job});
    }
    return table;
}

namespace {

template <class Row>
void add_shifted(std::vector<Row>& into, const std::vector<Row>& more, std::size_t shift) {
    into.reserve(into.size() + more.size());
    for (auto row : more) {
        row.job += shift;
        into.push_back(std::move(row));
    }
}

}  // namespace

void add_rows(AuditTable& into, const AuditTable& more) {
    const std::size_t shift = into.jobs.size();
    into.jobs.insert(into.jobs.end(), more.jobs.begin(), more.jobs.end());
    add_shifted(into.results, more.results, shift);
    add_shifted(into.open, more.open, shift);
    add_shifted(into.deferrals, more.deferrals, shift);
    add_shifted(into.gauges, more.gauges, shift);
    add_shifted(into.traces, more.traces, shift);
    add_shifted(into.uses, more.uses, shift);
    add_shifted(into.complaints, more.complaints, shift);
}

}  // namespace wm::audit
