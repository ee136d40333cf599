// How many finished jobs to look at again, and what that can find.
#pragma once

#include <cstdint>
#include <optional>

#include "problem/result.hpp"

namespace wm::audit {

/// Look at `sample` jobs; accept the lot if at most `accepted` of them fail.
struct Plan {
    std::int64_t sample = 0;
    std::int64_t accepted = 0;
    friend bool operator==(const Plan&, const Plan&) = default;
};

/// General inspection level: II for an audit of a crew, I for the random sample of a week.
enum class InspectionLevel { I, II };

/// The code letter A to H or J of a lot. Problems: fewer than 2 jobs, more than 1200.
/// Source: ISO 2859-1:1999, table 1; level II as read in a printed copy, level I from memory.
[[nodiscard]] Result<char> code_letter(std::int64_t lot, InspectionLevel level);

/// Sample of a code letter: A 2, B 3, C 5, D 8, E 13, F 20, G 32, H 50, J 80. A problem for any
/// other letter.
[[nodiscard]] Result<std::int64_t> sample_of_letter(char letter);

/// Random sample of the jobs finished in a week, level I: 2 to 15 jobs 2, 16 to 25 jobs 3, 26 to 90
/// jobs 5, 91 to 150 jobs 8 and so on; a single job is looked at, none gives none, and never more
/// than there are. Problems: a negative number, more than 1200.
[[nodiscard]] Result<std::int64_t> weekly_sample(std::int64_t finished_jobs);

/// Acceptable quality limits of the table, percent.
enum class QualityLimit { OnePercent, TwoAndAHalfPercent, FourPercent };

/// Single sampling, normal inspection; where the table points to another letter, that one's plan.
/// A sample that would reach the lot means all of it is looked at, and none may fail (the latter is
/// our convention).
/// Plans are meant for a series of lots; tighten after two of five were rejected.
/// Source: ISO 2859-1:1999, table 2-A, from memory.
[[nodiscard]] Result<Plan> single_plan(std::int64_t lot, QualityLimit limit);

/// Probability to accept a large lot with this share of failures.
/// Problems: no sample, an accepted number outside 0 to the sample, a share outside 0 to 1.
[[nodiscard]] Result<double> acceptance_probability(const Plan& plan, double failing_share);

/// Probability to accept a lot of `total` jobs of which `failing` fail: drawn without return.
struct Lot {
    std::int64_t total = 0;
    std::int64_t failing = 0;
};
[[nodiscard]] Result<double> acceptance_probability(const Plan& plan, const Lot& lot);

/// The share of failures of a large lot that is accepted with this probability (between 0 and 1).
/// The accepted number must be below the sample: otherwise every lot is accepted.
[[nodiscard]] Result<double> failing_share_accepted(const Plan& plan, double probability);

}  // namespace wm::audit
