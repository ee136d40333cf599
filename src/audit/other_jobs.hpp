// The other side of a finding: which jobs failed among those it is compared with.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "audit/columns.hpp"
#include "audit/findings.hpp"

namespace wm::audit {

/// Jobs that failed the finding's check between the days (ISO, both included) and are none of its own, by number. nullopt
/// where these are not the failures it was compared with: they are unlike, or the finding is not about failures of a check.
[[nodiscard]] std::optional<std::vector<std::string>> other_jobs(const Columns& columns, const Finding& finding, std::string_view first_day,
                                                                 std::string_view last_day);

/// What the finding's figures are held against, in words.
[[nodiscard]] std::string_view compared_with(std::string_view kind);

}  // namespace wm::audit
