// What every statistic demands of the counts it is given.
#pragma once

#include <span>
#include <string_view>

#include "audit/shares.hpp"
#include "measure/demands.hpp"

namespace wm::audit {

/// At least one try, and no more failed than tried.
inline void demand_tally(measure::Demands& demands, const Tally& tally,
                         std::string_view failed_symbol = "x",
                         std::string_view tries_symbol = "n") {
    demands.that(tally.tries > 0, tries_symbol, "at least one try is needed")
        .that(tally.failed >= 0, failed_symbol, "it must not be below 0")
        .that(tally.failed <= tally.tries, failed_symbol, "no more can fail than were tried");
}

inline void demand_tallies(measure::Demands& demands, std::span<const Tally> tallies,
                           std::string_view failed_symbol = "x",
                           std::string_view tries_symbol = "n") {
    demands.that(!tallies.empty(), tries_symbol, "at least one count is needed");
    for (const Tally& tally : tallies) demand_tally(demands, tally, failed_symbol, tries_symbol);
}

}  // namespace wm::audit
