// How long each crew's deferrals stay open.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "audit/results.hpp"

namespace wm::audit {

struct AgeingRow {
    std::string crew;
    std::int64_t put_off = 0;    ///< deferrals made in the span
    std::int64_t open = 0;       ///< of these, still open on the last day
    std::int64_t forgotten = 0;  ///< of the open ones, older than `forgotten_after_days`
    int oldest_days = 0;         ///< age of the oldest open one
    std::optional<double> median_days;  ///< until closed, open ones counted as open (Kaplan and Meier)
    std::vector<std::string> jobs;      ///< with a forgotten one, oldest first
};

/// Most forgotten first; crews without a deferral give no row. What was closed after the last day
/// counts as open on it.
[[nodiscard]] std::vector<AgeingRow> ageing_of(const AuditTable& table, const std::string& first_day,
                                               const std::string& last_day, int forgotten_after_days = 14);

}  // namespace wm::audit
