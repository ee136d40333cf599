#include "audit/complaints.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "audit/finding_words.hpp"
#include "audit/frost_class.hpp"
#include "audit/proofs.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

/// The commissioning and the survey that a job of a house came after, by number.
class Houses {
public:
    explicit Houses(const Columns& columns) : columns_{columns} {}
    /// Itself, or the nearest before it; nullopt where none is on record.
    [[nodiscard]] std::optional<std::size_t> before(std::size_t job, std::string_view kind) const {
        std::set<std::size_t> seen;
        for (std::optional<std::size_t> at = job; at && seen.insert(*at).second; at = earlier(*at))
            if (columns_.card(*at).kind == kind) return at;
        return std::nullopt;
    }

private:
    [[nodiscard]] std::optional<std::size_t> earlier(std::size_t job) const {
        const auto& after = columns_.card(job).after;
        return after.empty() ? std::nullopt : columns_.job_named(after);
    }

    const Columns& columns_;
};

/// Two winters: what an older home calls about has more behind it than how it was done.
constexpr int homes_of_days = 2 * 365;

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

bool is_done_home(const JobCard& card, const std::string& street) {
    return card.kind == "commissioning" && card.street == street && !card.frost_class.empty() && !card.day.empty();
}

/// Homes of one street and kind under one number.
struct Strata {
    std::vector<std::uint32_t> of_job;
    std::size_t count = 0;
};

Strata strata_of(const Columns& columns) {
    std::map<std::pair<Code, Code>, std::uint32_t> known;
    Strata strata;
    strata.of_job.reserve(columns.job_count());
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto next = static_cast<std::uint32_t>(known.size());
        strata.of_job.push_back(known.try_emplace({columns.codes(job).street, columns.codes(job).system}, next).first->second);
    }
    strata.count = known.size();
    return strata;
}

/// A check that calls point to, with the homes as they stood before the first of these calls.
struct Asked {
    CheckOnDay check;
    const Calls& calls;
    const std::vector<Proof>& then;
};

std::optional<Question> question_of(const Columns& columns, const Strata& strata, const Asked& asked) {
    Question question;
    question.kind = QuestionKind::Complaint;
    question.check = columns.names().check.text(asked.check.check);
    question.since = asked.calls.first_day;
    std::vector<Comparison> counted(strata.count);
    std::vector<bool> called(columns.job_count());
    for (const auto home : asked.calls.homes) called[home] = true;
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        // A home done after the first call was not there to complain.
        const auto done = columns.codes(job).day;
        if (asked.then[job] == Proof::NotAsked || done == 0 || done >= asked.check.day) continue;
        auto& stratum = counted[strata.of_job[job]];
        const bool unproved = asked.then[job] == Proof::Unproved;
        auto& side = unproved ? stratum.first : stratum.second;
        ++side.tries;
        side.failed += called[job] ? 1 : 0;
        if (!unproved) continue;
        // Whoever looked since has no gap any more.
        if (called[job]) question.jobs.push_back(columns.card(job).job);
        else if (outcome_on(columns, job, {asked.check.check, 0}).value_or("") != "conforms") question.alike.push_back(columns.card(job).job);
    }
    for (const auto& stratum : counted) {
        if (stratum.first.tries == 0 && stratum.second.tries == 0) continue;
        question.own.tries += stratum.first.tries;
        question.own.failed += stratum.first.failed;
        question.others.tries += stratum.second.tries;
        question.others.failed += stratum.second.failed;
        question.strata.push_back(stratum);
    }
    if (question.own.tries == 0 || question.others.tries == 0) return std::nullopt;
    return question;
}

/// What a check of the home proved before its customer called; empty where it did, or was not asked there.
std::string gap_of(const Columns& columns, const HomesAlike& alike, std::size_t home, Code check, Day called) {
    const auto then = outcome_on(columns, home, {check, called});
    if (then ? *then == "conforms" || *then == "not applicable" : !alike.is_asked(home, check)) return "";
    for (const auto& deferral : columns.rest().deferrals)
        if (deferral.job == home && deferral.check == columns.names().check.text(check) &&
            (deferral.closed.empty() || day_code(deferral.closed) >= called))
            return "put off";
    if (then) return std::string{*then};
    return outcome_on(columns, home, {check, 0}) ? "read only after the call" : "never read";
}

}  // namespace

std::vector<ComplaintTrace> complaint_traces(const Columns& columns, const SymptomLinks& links, const std::string& first_day,
                                             const std::string& last_day) {
    std::vector<ComplaintTrace> traces;
    const Houses houses{columns};
    const auto& table = columns.rest();
    std::set<Code> checks;
    for (std::size_t at = 0; at < table.complaints.size(); ++at) {
        const auto& row = table.complaints[at];
        const bool still_open = row.closed.empty() || row.closed > last_day;
        if (row.day > last_day || (row.day < first_day && !still_open)) continue;
        ComplaintTrace trace{.row = at, .commissioning = "", .survey = "", .unproved = {}};
        if (const auto survey = houses.before(row.job, "survey")) trace.survey = columns.card(*survey).job;
        if (const auto home = houses.before(row.job, "commissioning")) {
            trace.commissioning = columns.card(*home).job;
            for (const auto& check : checks_of(links, row))
                if (const auto code = columns.names().check.find(check)) checks.insert(*code);
        }
        traces.push_back(std::move(trace));
    }
    if (traces.empty()) return traces;
    const HomesAlike alike{columns, checks};
    for (auto& trace : traces) {
        const auto& row = table.complaints[trace.row];
        const auto home = houses.before(row.job, "commissioning");
        for (const auto& check : home ? checks_of(links, row) : std::set<std::string>{}) {
            const auto code = columns.names().check.find(check);
            if (auto gap = code ? gap_of(columns, alike, *home, *code, day_code(row.day)) : ""; !gap.empty()) trace.unproved.push_back({check, std::move(gap)});
        }
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
    std::vector<Calls> called;
    std::vector<CheckOnDay> then;
    for (const auto& check : checks) {
        auto calls = calls_for(columns, houses, links, check, span);
        const auto code = columns.names().check.find(check);
        if (calls.homes.empty() || !code) continue;
        then.push_back({*code, day_code(calls.first_day)});
        called.push_back(std::move(calls));
    }
    if (called.empty()) return all;
    const auto stood = proofs_of(columns, then, day_code(units::day_after(span.last_day, -homes_of_days).value_or("")));
    const auto strata = strata_of(columns);
    for (std::size_t i = 0; i < called.size(); ++i) {
        auto question = question_of(columns, strata, {then[i], called[i], stood[i]});
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
    if (table.complaints.empty()) return {};
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
            if (is_done_home(job, name)) coldest = std::min(coldest, boldness(job.frost_class));
        Comparison homes;
        std::vector<std::string> jobs;
        std::vector<std::string> others;
        std::string taken_for;
        for (std::size_t job = 0; job < table.jobs.size(); ++job) {
            const auto& card = table.jobs[job];
            if (!is_done_home(card, name) || card.day > span.last_day) continue;
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
