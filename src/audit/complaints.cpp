#include "audit/complaints.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <unordered_map>
#include <utility>

#include "audit/finding_words.hpp"
#include "audit/frost_class.hpp"

namespace wm::audit {

namespace {

constexpr std::size_t least_alike = 8;
constexpr std::size_t asked_in_ten = 9;

bool is_commissioning(const JobCard& card) { return card.kind == "commissioning"; }

/// The commissioning and the survey that a job of a house came after, by number.
class Houses {
public:
    explicit Houses(const Columns& columns) : columns_{columns} {
        for (std::size_t job = 0; job < columns.job_count(); ++job) by_number_.emplace(columns.card(job).job, job);
    }
    /// Itself, or the nearest before it; nullopt where none is on record.
    [[nodiscard]] std::optional<std::size_t> before(std::size_t job, std::string_view kind) const {
        std::set<std::size_t> seen;
        for (std::optional<std::size_t> at = job; at && seen.insert(*at).second; at = earlier(*at))
            if (columns_.card(*at).kind == kind) return at;
        return std::nullopt;
    }

private:
    [[nodiscard]] std::optional<std::size_t> earlier(std::size_t job) const {
        const auto found = by_number_.find(columns_.card(job).after);
        return found == by_number_.end() ? std::nullopt : std::optional{found->second};
    }

    const Columns& columns_;
    std::unordered_map<std::string_view, std::size_t> by_number_;
};

bool points_to(const SymptomLink& link, const ComplaintRow& row) {
    return link.symptom == row.symptom && (!link.in_frost || row.frost);
}

bool lies_within(const std::string& day, const std::string& first, const std::string& last) { return day >= first && day <= last; }

std::set<std::string> checks_of(const SymptomLinks& links, const ComplaintRow& row) {
    std::set<std::string> checks;
    for (const auto& link : links)
        if (points_to(link, row)) checks.insert(link.check);
    return checks;
}

/// How often each home, by commissioning, complained of what a check guards against.
struct Calls {
    std::set<std::size_t> homes;
    std::string first_day;
};

Calls calls_for(const Columns& columns, const Houses& houses, const SymptomLinks& links, const std::string& check, const QuestionSpan& span) {
    Calls calls;
    for (const auto& row : columns.rest().complaints) {
        if (!lies_within(row.day, span.first_day, span.last_day)) continue;
        const bool counts = std::any_of(links.begin(), links.end(), [&](const SymptomLink& link) { return link.check == check && points_to(link, row); });
        const auto home = counts ? houses.before(row.job, "commissioning") : std::nullopt;
        if (!home) continue;
        calls.homes.insert(*home);
        if (calls.first_day.empty() || row.day < calls.first_day) calls.first_day = row.day;
    }
    return calls;
}

std::optional<Question> question_of(const Columns& columns, const Calls& calls, const std::string& check) {
    Question question;
    question.kind = QuestionKind::Complaint;
    question.check = check;
    question.since = calls.first_day;
    std::map<std::pair<Code, Code>, Comparison> strata;
    const auto proofs = proofs_of(columns, check);
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto& card = columns.card(job);
        // A home done after the first call was not there to complain.
        if (proofs[job] == Proof::NotAsked || card.day.empty() || card.day >= calls.first_day) continue;
        const auto& codes = columns.codes(job);
        auto& stratum = strata[{codes.street, codes.system}];
        auto& side = proofs[job] == Proof::Unproved ? stratum.first : stratum.second;
        auto& whole = proofs[job] == Proof::Unproved ? question.own : question.others;
        const bool called = calls.homes.contains(job);
        for (auto* tally : {&side, &whole}) {
            ++tally->tries;
            tally->failed += called ? 1 : 0;
        }
        if (proofs[job] == Proof::Unproved) (called ? question.jobs : question.alike).push_back(card.job);
    }
    if (question.own.tries == 0 || question.others.tries == 0) return std::nullopt;
    for (const auto& [key, stratum] : strata) question.strata.push_back(stratum);
    return question;
}

}  // namespace

std::vector<Proof> proofs_of(const Columns& columns, const std::string& check) {
    std::vector<Proof> proofs(columns.job_count(), Proof::NotAsked);
    const auto code = columns.names().check.find(check);
    if (!code) return proofs;
    struct Alike {
        std::size_t homes = 0, read = 0;
    };
    std::map<std::pair<std::string_view, std::string_view>, Alike> groups;
    std::vector<bool> is_read(columns.job_count());
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        if (!is_commissioning(columns.card(job))) continue;
        const auto range = columns.results_of(job);
        for (auto row = range.first; row < range.last; ++row) {
            if (columns.results().check[row] != *code) continue;
            const auto& outcome = columns.names().outcome.text(columns.results().outcome[row]);
            is_read[job] = true;
            if (outcome == "not applicable") continue;
            proofs[job] = outcome == "conforms" ? Proof::Proved : Proof::Unproved;
        }
        auto& group = groups[{columns.card(job).system, columns.card(job).frost_class}];
        ++group.homes;
        group.read += is_read[job] ? 1 : 0;
    }
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        if (!is_commissioning(columns.card(job)) || is_read[job]) continue;
        const auto& group = groups[{columns.card(job).system, columns.card(job).frost_class}];
        if (group.homes >= least_alike && group.read * 10 >= group.homes * asked_in_ten) proofs[job] = Proof::Unproved;
    }
    return proofs;
}

std::vector<ComplaintTrace> complaint_traces(const Columns& columns, const SymptomLinks& links, const std::string& first_day,
                                             const std::string& last_day) {
    std::vector<ComplaintTrace> traces;
    const Houses houses{columns};
    std::map<std::string, std::vector<Proof>> known;
    const auto& table = columns.rest();
    for (std::size_t at = 0; at < table.complaints.size(); ++at) {
        const auto& row = table.complaints[at];
        const bool still_open = row.closed.empty() || row.closed > last_day;
        if (row.day > last_day || (row.day < first_day && !still_open)) continue;
        ComplaintTrace trace{.row = at, .commissioning = "", .survey = "", .unproved = {}};
        if (const auto survey = houses.before(row.job, "survey")) trace.survey = columns.card(*survey).job;
        const auto home = houses.before(row.job, "commissioning");
        if (home) trace.commissioning = columns.card(*home).job;
        for (const auto& check : home ? checks_of(links, row) : std::set<std::string>{}) {
            auto proofs = known.find(check);
            if (proofs == known.end()) proofs = known.emplace(check, proofs_of(columns, check)).first;
            if (proofs->second[*home] != Proof::Unproved) continue;
            std::string what = "never read";
            const auto range = columns.results_of(*home);
            for (auto result = range.first; result < range.last; ++result)
                if (columns.check(result) == check) what = columns.names().outcome.text(columns.results().outcome[result]);
            for (const auto& deferral : table.deferrals)
                if (deferral.job == *home && deferral.check == check && deferral.closed.empty()) what = "put off";
            trace.unproved.push_back({check, std::move(what)});
        }
        traces.push_back(std::move(trace));
    }
    std::stable_sort(traces.begin(), traces.end(), [&](const ComplaintTrace& a, const ComplaintTrace& b) {
        const auto& one = table.complaints[a.row];
        const auto& other = table.complaints[b.row];
        return one.closed.empty() != other.closed.empty() ? one.closed.empty() : one.day < other.day;
    });
    return traces;
}

std::vector<Question> complaint_questions(const Columns& columns, const SymptomLinks& links, const QuestionSpan& span) {
    std::vector<Question> all;
    if (columns.rest().complaints.empty()) return all;
    const Houses houses{columns};
    std::set<std::string> checks;
    for (const auto& row : columns.rest().complaints)
        if (lies_within(row.day, span.first_day, span.last_day)) checks.merge(checks_of(links, row));
    for (const auto& check : checks) {
        const auto calls = calls_for(columns, houses, links, check, span);
        if (calls.homes.empty()) continue;
        auto question = question_of(columns, calls, check);
        if (!question) continue;
        const bool known = std::any_of(all.begin(), all.end(), [&](const Question& one) {
            return one.own == question->own && one.others == question->others && one.jobs == question->jobs && one.alike == question->alike;
        });
        if (!known) all.push_back(*std::move(question));
    }
    return all;
}

std::vector<Observation> surveys_behind_complaints(const Columns& columns, const SymptomLinks& links, const ObservationSpan& span) {
    const auto& table = columns.rest();
    const Houses houses{columns};
    /// Homes of a street as they were taken for frost.
    struct Street {
        std::set<std::size_t> called;      ///< after frost, at any time of the span
        std::vector<std::string> now;      ///< complaints of this week, in words
        std::vector<std::string> jobs;
    };
    std::map<std::string, Street> streets;
    for (const auto& row : table.complaints) {
        if (!row.frost || !lies_within(row.day, span.first_day, span.last_day)) continue;
        if (std::none_of(links.begin(), links.end(), [&](const SymptomLink& link) { return link.in_frost && link.symptom == row.symptom; })) continue;
        const auto home = houses.before(row.job, "commissioning");
        if (!home || table.jobs[*home].street.empty()) continue;
        auto& street = streets[table.jobs[*home].street];
        street.called.insert(*home);
        if (row.day < span.first_day_of_week) continue;
        const auto survey = houses.before(row.job, "survey");
        street.now.push_back(fmt::format("{} at {}", row.air, table.jobs[*home].job + (survey ? ", surveyed in " + table.jobs[*survey].job : "")));
        street.jobs.push_back(table.jobs[*home].job);
    }
    std::vector<Observation> all;
    for (const auto& [name, street] : streets) {
        if (street.now.empty()) continue;
        int coldest = 2;
        for (const auto& job : table.jobs)
            if (is_commissioning(job) && job.street == name && !job.frost_class.empty()) coldest = std::min(coldest, boldness(job.frost_class));
        Comparison homes;
        std::vector<std::string> jobs;
        std::vector<std::string> others;
        std::string taken_for;
        for (std::size_t job = 0; job < table.jobs.size(); ++job) {
            const auto& card = table.jobs[job];
            if (!is_commissioning(card) || card.street != name || card.frost_class.empty() || card.day > span.last_day) continue;
            const bool bold = boldness(card.frost_class) > coldest;
            auto& side = bold ? homes.first : homes.second;
            ++side.tries;
            side.failed += street.called.contains(job) ? 1 : 0;
            if (!bold) continue;
            taken_for = card.frost_class;
            if (std::find(street.jobs.begin(), street.jobs.end(), card.job) != street.jobs.end()) jobs.push_back(card.job);
            else if (!street.called.contains(job)) others.push_back(card.job);
        }
        // Calls from homes that were taken for what their neighbours are lead to no survey.
        if (jobs.empty()) continue;
        const auto test = fisher_exact(homes);
        Observation asked;
        asked.kind = "complaint and survey";
        asked.subject = name;
        asked.sentence = fmt::format("Calls after frost in {}: {}. Surveyed as \"{}\" for frost, and the neighbours as colder. Of {} homes taken for "
                                     "\"{}\" {} have called, of {} neighbours {}.{}",
                                     name, fmt::join(street.now, "; "), taken_for, homes.first.tries, taken_for, homes.first.failed, homes.second.tries,
                                     homes.second.failed, test ? " Chance alone: " + chance_in_words(test->greater) + "." : "");
        asked.what_to_do = others.empty() ? "Survey the street again for frost, and protect or drain these homes before the next night."
                                          : fmt::format("Survey the street again for frost, and protect or drain before the next night also: {}.", fmt::join(others, ", "));
        asked.jobs = jobs;
        all.push_back(std::move(asked));
    }
    return all;
}

}  // namespace wm::audit
