// The visits of a season: who goes where on which day, and how often a check fails there at the first try.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "demo/house.hpp"
#include "demo/robot.hpp"

namespace wm::demo {

struct SeasonPlan {
    int weeks = 26;
    std::uint64_t seed = 1;
    std::string first_monday = "2026-07-06";  ///< week 1, high summer
    bool planted = true;                      ///< false: a quiet season without any pattern
};

struct Visit {
    int week = 1;  ///< of the season, from 1
    int crew = 0;  ///< from 0
    House house;
    bool clear = true;
    bool unlucky_home = false;  ///< one bad delivery: seven failures, no pattern
    bool written_not_measured = false;
    bool forgotten = false;     ///< what is put off that day stays put off
    bool feed_left_out = false; ///< nobody looked whether the cold feed can freeze
    std::string day;
    int ms_after_eight = 0;     ///< start of work, milliseconds after 08:00
};

/// All visits of a plan, oldest first. Same plan, same visits. Figures: invented
/// for the demo; one street is sheltered and free of frost, and direct systems stand there alone,
/// but for the planted homes of the cold hollow that were taken for free of frost.
[[nodiscard]] std::vector<Visit> visits_of(const SeasonPlan& plan);

/// What the chance of a check depends on besides the visit.
struct CheckShape {
    std::string_view id;
    bool number = false;  ///< a number is entered, not a yes or a choice
    int positions = 0;    ///< required places of a check by positions; 0 for others
};

/// Chance that the check fails at the first try, 0 to 1.
[[nodiscard]] double first_try_chance(const CheckShape& check, const Visit& visit, bool planted);

/// What a crew's gauge shows behind the limiting valve, kPa: the street's pressure or what the valve
/// lets through, with 14 kPa of scatter in all; a planted gauge climbs 2.5 kPa a week from week 8 on
/// until it is put right in week 22.
[[nodiscard]] double pressure_shown(const Visit& visit, bool planted, Dice& dice);

/// The day the crew's gauge was last calibrated.
[[nodiscard]] std::string gauge_calibrated_on(const Visit& visit, const SeasonPlan& plan);

}  // namespace wm::demo
