// The audit of one week: what failed of how many, what can hurt someone, what waits, what stands out.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "audit/results.hpp"
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

/// A result of severity H that failed, listed one by one and never only counted.
struct SevereRow {
    std::string job, check, outcome;
    bool corrected = false;
};

struct OpenRow {
    std::string job, check, owner, what;
    int age_days = 0;
};

/// A difference that chance hardly explains: a sentence, its figures, and the jobs behind it.
struct Finding {
    std::string kind;     ///< "crew and check", "batch and check"
    std::string subject;  ///< the crew, or "relief valve RV-K17"
    std::string check;
    std::string sentence;
    double p = 1.0;  ///< exact, like beside like
    double q = 1.0;  ///< with false-discovery control over all comparisons of the week
    Tally own;
    Tally others;
    std::vector<std::string> jobs;
};

struct SampleRow {
    std::string job, why;
};

struct Week {
    std::string week;
    int jobs = 0;
    int results = 0;
    int inconclusive = 0;  ///< results whose first reading could not tell, apart from the failures
    std::vector<ShareRow> by_check;  ///< most failures first; only checks with a failure
    std::vector<ShareRow> by_crew;   ///< each crew in all, then its checks with a failure
    std::vector<ShareRow> by_batch;
    std::vector<SevereRow> severe;
    std::vector<OpenRow> open;       ///< as of the last day of the week, oldest first
    std::vector<Finding> findings;   ///< smallest q first
    std::vector<SampleRow> samples;  ///< jobs to look at again, each with its reason
};

/// How the week is looked at.
struct WeekSettings {
    int weeks_back = 26;        ///< findings look at so many weeks up to this one
    double q_shown = 0.05;      ///< at most this share of false ones among all findings
    double p_clear = 0.01;      ///< a finding above this p says so in its sentence; it hides none
    std::int64_t least_tries = 8;
    std::uint64_t seed = 1;     ///< of the random sample
};

/// The weeks that hold results, oldest first.
[[nodiscard]] std::vector<std::string> weeks_of(const AuditTable& table);

/// A week without results gives empty lists. Crews and batches are compared with all others within
/// the same roof, kind of system and household. Rule of the findings: exact test in strata, at
/// least `least_tries` tries on both sides, and false-discovery control over all comparisons.
[[nodiscard]] Week week_audit(const AuditTable& table, const CheckCards& cards, const std::string& week,
                              const WeekSettings& settings = {});

}  // namespace wm::audit
