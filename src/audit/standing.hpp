// Where a batch or a gauge stands on the last day looked at: whether there is still something to hold back.
#pragma once

#include <cstddef>
#include <string>

#include "audit/columns.hpp"
#include "audit/drift.hpp"
#include "audit/questions.hpp"

namespace wm::audit {

/// In use is what was fitted or read within so many days (common practice, no source): the eight weeks that count as recent.
inline constexpr int in_use_days = 7 * 8;

struct BatchStanding {
    std::string last_fitted{};  ///< day of the first reading of the newest job that names it; empty = none known
    bool is_in_use = true;
    std::size_t waiting = 0;    ///< its jobs in which the check of the finding is open
};

struct GaugeStanding {
    std::string calibrated_since{};  ///< day of the first later calibration it was read under; empty = none known
    bool is_in_use = true;
    bool is_set_aside = false;       ///< what it read in these jobs counts as proof no more
};

/// Of the batch that a question of materials is about, "relief valve RV-K17"; nothing after the last day counts.
[[nodiscard]] BatchStanding standing_of(const Columns& columns, const Question& question, const std::string& last_day);
[[nodiscard]] GaugeStanding standing_of(const Columns& columns, const GaugeDrift& drift, const std::string& last_day);

}  // namespace wm::audit
