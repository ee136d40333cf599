// Who calls in a season, why, and what it came down to: frost at homes that were taken for free of it or left bare, and what
// happens anyway.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "demo/season_visits.hpp"

namespace wm::demo {

/// What a complaint came down to: somebody went there, read a check again, and it stood as right.
struct Cure {
    std::string day;
    int ms_after_eight = 0;
    std::string cause;  ///< a failure of failures.toml
    std::string check;  ///< that catches it
};

/// One call about the home of a visit.
struct Call {
    std::size_t visit = 0;  ///< index into the visits of the plan
    int week = 1;           ///< of the season
    std::string day;
    int ms_after_eight = 0;
    std::string symptom;    ///< a word of failures.toml
    int air_c = 0;          ///< lowest of that night, told with the call
    std::optional<Cure> cure{};  ///< none while the season lasts: nobody went, or no check of a visit can prove it right
};

/// Lowest temperature of a night of that week, °C: 9 − 18 · (week/26)^1.3 with 2 K of scatter; the cold hollow lies 4 K
/// lower and the sheltered street 6 K higher (invented).
[[nodiscard]] double night_mean_c(const Visit& visit, int week);

/// The calls of all visits, oldest first. Same plan, same calls. Planted: homes of the hollow that were taken for free of
/// frost burst with 0.10 a week below −2 °C from week 14 on; feeds left bare freeze with 0.05 a week below −4 °C. Anyway, in quiet
/// seasons too: 0.0005 a week and home below −4 °C from frost, 0.001 from anything else (invented). A home calls of frost
/// once. Three calls in four are cured one to nine days later (invented), but for bursts at homes that were taken for free of
/// frost: those wait for a new survey.
[[nodiscard]] std::vector<Call> calls_of(const SeasonPlan& plan, const std::vector<Visit>& visits);

}  // namespace wm::demo
