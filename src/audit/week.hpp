// The audit of one week: what failed of how many, what can hurt someone, what waits, what stands out.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "audit/ageing.hpp"
#include "audit/filter.hpp"
#include "audit/findings.hpp"
#include "audit/observations.hpp"
#include "audit/columns.hpp"
#include "audit/complaints.hpp"
#include "audit/shares.hpp"

namespace wm::audit {

/// Failures of tries with the Wilson interval; jobs are those that failed.
struct ShareRow {
    std::string subject;  ///< crew or batch; empty in the list by check
    std::string check;    ///< empty for all checks of the subject
    Tally tally;
    Interval interval;
    std::vector<std::string> jobs;
    std::int64_t inconclusive = 0;  ///< of the tries: the first reading could not tell; no failure
};

/// A result of severity H that failed in this week, or waits from an earlier one; listed one by one
/// and never only counted.
struct SevereRow {
    std::string job, check, outcome;
    bool corrected = false;
};

struct OpenRow {
    std::string job, check, owner, what;
    int age_days = 0;
};

struct SampleRow {
    std::string job, why;
    std::string narrows{};  ///< which interval the visit makes narrower, in words; empty = none
};

/// A reading of a gauge less what the others of its street read, and the sum it makes.
struct GaugePoint {
    std::string day;
    double difference_kpa = 0.0;
    double sum = 0.0;     ///< in deviations: the larger side, downward with a minus
    bool beyond = false;  ///< of 5
    std::string job{};
};

/// A gauge beside the others of the same streets.
struct GaugeRow {
    std::string instrument;
    int readings = 0;          ///< that could be compared
    double recent_kpa = 0.0;   ///< mean difference of the last eight
    Interval recent{};         ///< of that mean, kPa, 95 %: a mean of so many with the scatter of single differences
    double highest = 0.0;      ///< highest cumulative sum, in deviations
    std::string signal_since;  ///< day the sum passed 5; empty = never. In a season one gauge in twenty does so by chance
    double p = 1.0;            ///< chance of a sum that high
    double scatter_kpa = 0.0;          ///< standard deviation of single differences, all gauges
    std::vector<GaugePoint> points{};  ///< oldest first
};

struct Week {
    std::string week;
    int jobs = 0;
    int results = 0;
    int inconclusive = 0;  ///< results whose first reading could not tell, apart from the failures
    std::vector<std::string> looked_at;  ///< the jobs that are counted
    std::vector<ShareRow> by_check;  ///< most failures first; only checks with a failure
    std::vector<ShareRow> by_crew;   ///< each crew in all, then its checks with a failure
    std::vector<ShareRow> by_batch;
    std::vector<SevereRow> severe;   ///< those that are not put right first
    std::vector<OpenRow> open;       ///< as of the last day of the week, oldest first
    std::vector<Finding> findings;   ///< smallest q first
    std::vector<Observation> questions;  ///< put to people, with right of reply; no verdicts
    std::vector<ComplaintTrace> complaints;  ///< of the week, and open ones; open ones first
    std::vector<AgeingRow> ageing;   ///< of deferrals by crew, most forgotten first
    std::vector<GaugeRow> gauges;    ///< smallest p first
    std::vector<SampleRow> samples;  ///< jobs to look at again, each with its reason
    int finished = 0;                ///< jobs handed over in the week: what the sample is drawn from
    std::string seed{};              ///< of the draw: with the same jobs it draws the same again
};

/// How the week is looked at.
struct WeekSettings {
    int weeks_back = 26;        ///< findings look at so many weeks up to this one
    /// At most this share of false ones among the findings of one look. A season is looked at week
    /// after week: with 0.02 each time, 3.2 % of 1000 quiet seasons of 26 weeks
    /// showed one (95 %: 2.3 to 4.5 %; scripts/soak season).
    double q_shown = 0.02;
    double p_clear = 0.01;      ///< a finding above this p says so in its sentence; it hides none
    std::int64_t least_tries = 8;
    /// Of the random sample. Empty: made of the week's name and the handovers of its jobs (their entries' hashes). Nobody can
    /// tell it before the last of them, and what is written later does not change it.
    std::string seed{};
    int weeks = 1;              ///< results of so many weeks up to this one are counted
    /// Only what fits is counted and listed. Findings and gauges stay compared with all jobs, since
    /// like is held beside like; shown are those that one of the jobs looked at stands behind.
    Filter filter{};
    SymptomLinks links{};  ///< without them complaints are listed, and lead nowhere
};

/// The weeks that hold results, oldest first.
[[nodiscard]] std::vector<std::string> weeks_of(const Columns& columns);

/// A week without results gives empty lists. Rule of the findings: like beside like (likeness.hpp),
/// exact test in strata, at least `least_tries` tries on both sides, and false-discovery control
/// over all comparisons (discoveries.hpp).
[[nodiscard]] Week week_audit(const Columns& all, const CheckCards& cards, const std::string& week,
                              const WeekSettings& settings = {});

}  // namespace wm::audit
