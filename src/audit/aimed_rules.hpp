// Which finished jobs a known way to fail points at: visits that are aimed, beside those that are drawn.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "audit/columns.hpp"

namespace wm::audit {

struct AimedAt {
    std::size_t job = 0;  ///< of the columns
    std::string why;
};

/// Days are ISO, all included.
struct AimedSpan {
    std::string first_day;          ///< of the season that ends with the week
    std::string first_day_of_week;  ///< of the jobs looked at
    std::string last_day;
    std::string seed;               ///< for the rules that draw
};

/// Jobs by the rules in their order; one job may be named by several. Only jobs that were handed over are named, and a rule
/// whose facts a job does not state passes over it. Rules of a month or a quarter name nobody before its last week.
[[nodiscard]] std::vector<AimedAt> aimed_visits(const Columns& columns, const AimedSpan& span);

/// A rule that would be worth having and cannot be followed.
struct RuleLeftOut {
    std::string_view failure, rule, because;
};
[[nodiscard]] std::span<const RuleLeftOut> rules_left_out();

}  // namespace wm::audit
