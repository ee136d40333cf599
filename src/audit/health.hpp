// Which checks of the checklists tell too little, or cannot be answered well.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "audit/columns.hpp"

namespace wm::audit {

/// One thing about one check, with what the keeper of the checklist may do about it.
struct HealthRow {
    std::string kind;   ///< "never fails", "mostly fails", "answered differently", "often put off", "slow"
    std::string check;
    std::string sentence;
    std::string proposal;
    std::int64_t tries = 0;
    std::vector<std::size_t> jobs{};  ///< behind the sentence, newest first, at most `most_jobs`
};

struct HealthRule {
    std::string first_day, last_day;      ///< results of these days, both included
    std::int64_t enough_to_never = 150;   ///< tries without a failure: the true share is then below 2.5 % (Wilson, 95 %)
    std::int64_t least_tries = 8;
    std::int64_t least_pairs = 8;         ///< houses where two visits answered the same check
    double times_slower = 3.0;            ///< than the rest of its stage (common practice, no source)
    std::size_t most_jobs = 50;
};

/// Never fails: many tries, none failed; a check of severity H is proposed to be kept. Mostly fails:
/// the interval of its share lies above one half. Answered differently: kappa of two visits of the
/// same house, where its interval lies below 0.6. Often put off: the interval of the share of
/// jobs that put it off lies above one fifth. Slow: the interval of the median of its seconds (median.hpp)
/// lies above `times_slower` medians of all other checks of its stage; a wait is no fault, so it is
/// proposed to be moved. The bounds 0.6, one half and one fifth are common practice, no source. Sorted by kind, then by tries, most first.
[[nodiscard]] std::vector<HealthRow> health_of(const Columns& columns, const CheckCards& cards, const HealthRule& rule);

}  // namespace wm::audit
