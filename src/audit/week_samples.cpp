#include "audit/week_samples.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "audit/aimed_rules.hpp"
#include "audit/draw.hpp"
#include "audit/sampling.hpp"
#include "audit/visit_worth.hpp"
#include "audit/withdrawn.hpp"

namespace wm::audit {

namespace {

/// The week's samples, each job once and for the first reason that named it.
class Taken {
public:
    explicit Taken(std::vector<SampleRow>& rows) : rows_{rows} {}
    void operator()(const std::string& job, std::string why, std::string narrows) {
        if (jobs_.insert(job).second) rows_.push_back({job, std::move(why), std::move(narrows)});
    }
    [[nodiscard]] bool holds(const std::string& job) const { return jobs_.contains(job); }

private:
    std::vector<SampleRow>& rows_;
    std::set<std::string> jobs_;
};

std::vector<std::size_t> finished_in(const Columns& columns, const SampleSpan& span) {
    std::vector<std::size_t> jobs;
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto& day = columns.card(job).visit.handed_over;
        if (!day.empty() && day >= span.first_day_of_week && day <= span.last_day) jobs.push_back(job);
    }
    return jobs;
}

// The hash of an entry that hands over holds the one before it, so no crew can choose it.
std::string seed_of(const Week& week, const Columns& columns, const std::vector<std::size_t>& finished) {
    std::vector<std::string> handovers;
    for (const auto job : finished) handovers.push_back(columns.card(job).job + " " + columns.card(job).visit.handed_by);
    std::sort(handovers.begin(), handovers.end());
    std::string all;
    for (const auto& one : handovers) all += one + "\n";
    return fmt::format("{}/{:016x}", week.week, mixed(all));
}

void take_by_lot(Week& week, Taken& take, const Columns& columns, const std::vector<std::size_t>& finished) {
    std::vector<std::string> lot;
    for (const auto job : finished) lot.push_back(columns.card(job).job);
    const auto wanted = weekly_sample(std::ssize(lot));
    std::int64_t visits = 0;
    for (const auto& job : drawn(lot, week.seed, "of the week")) {
        if (!wanted || visits >= *wanted) break;
        if (take.holds(job)) continue;
        ++visits;
        take(job, fmt::format("drawn at random of {} handed over, seed {}", lot.size(), week.seed), narrowed_by_clean_visit(std::ssize(lot), visits));
    }
}

void take_behind_questions(const Week& week, Taken& take) {
    for (const auto& question : week.questions) {
        // Where readings look written, three visits without notice read the same torque again.
        const bool about_haste = question.kind == "equal readings" || question.kind == "pace" || question.kind == "one photo twice";
        const std::size_t count = std::min<std::size_t>(about_haste ? 3 : 1, question.jobs.size());
        for (std::size_t back = 1; back <= count; ++back)
            take(question.jobs[question.jobs.size() - back], fmt::format("to answer a question: {}, {}", question.kind, question.subject),
                 back == 1 ? narrowed_by_answer(question) : "");
    }
}

}  // namespace

void draw_samples(Week& week, const Columns& columns, const CheckCards& cards, const SampleSpan& span) {
    Taken take{week.samples};
    // These stand outside statistics: each is looked at whatever the others show.
    for (const auto& row : week.severe) 
        take(row.job, fmt::format("{} that can hurt someone: {}", is_withdrawn(row.outcome) ? "withdrawn evidence of something" : "a failure", title_of(cards, row.check)), "");
    const auto finished = finished_in(columns, span);
    week.finished = static_cast<int>(finished.size());
    week.seed = span.seed.empty() ? seed_of(week, columns, finished) : span.seed;
    take_by_lot(week, take, columns, finished);
    for (const auto& finding : week.findings) {
        if (finding.jobs.empty()) continue;
        auto why = "newest job behind a finding: " + title_of(cards, finding.check);
        if (!finding.subject.empty()) why += " of " + finding.subject;
        take(finding.jobs.back(), std::move(why), narrowed_by_one_more(finding));
    }
    take_behind_questions(week, take);
    for (const auto& aimed : aimed_visits(columns, {span.first_day, span.first_day_of_week, span.last_day, week.seed}))
        take(columns.card(aimed.job).job, aimed.why, "");
}

}  // namespace wm::audit
