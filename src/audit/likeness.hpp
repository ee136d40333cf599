// What two jobs must share before a check of one may be held against the other.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "audit/results.hpp"

namespace wm::audit {

/// Only what can matter for the check: each further division costs power and buys nothing. A check
/// of unknown name is compared within roof and system, which errs towards caution.
struct Likeness {
    bool roof = true;
    bool system = true;
    bool household = false;
};
[[nodiscard]] Likeness likeness_of(std::string_view check);

/// Whether a job is done differently where vulnerable people live (taps are set cooler). Then crews
/// are also compared among these homes alone: a weakness shown in a third of the jobs drowns in the
/// other two thirds.
[[nodiscard]] bool asked_by_household(std::string_view check);

/// The materials that can be behind a check, as named in JobCard::batches; comparing every batch
/// with every check would cry wolf. Empty for most checks.
[[nodiscard]] std::span<const std::string_view> materials_behind(std::string_view check);

/// The stratum of a job for a check, as a text that only alike jobs share.
[[nodiscard]] std::string stratum_of(const JobCard& job, const Likeness& likeness);

}  // namespace wm::audit
