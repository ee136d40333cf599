// A season of invented jobs with planted patterns and decoys, for trying the audit out.
#pragma once

#include <functional>
#include <string>

#include "demo/one_job.hpp"
#include "demo/season_visits.hpp"

namespace wm::demo {

struct SeasonDone {
    int jobs = 0;
    int readings = 0;
    int failed = 0;        ///< readings of a first visit that did not conform
    int inconclusive = 0;  ///< and those that could not tell, counted apart
    int complaints = 0;
    int complaints_closed = 0;
    std::string first_week, last_week;
};

/// Writes the jobs of the season through the desk. Same plan, same jobs and readings.
/// Patterns: one crew leaves pipe ends open; a gauge drifts from week 8; a bad batch of relief
/// valves in weeks 11 to 17; weak mixtures after the premix runs out in week 14; six homes of the
/// cold hollow surveyed as free of frost; bare cold feeds of the summer; one crew leaves tempering
/// valves as they came, where people are vulnerable; numbers written instead of measured in weeks
/// 9 to 20; deferrals of one crew forgotten. Decoys: slate roofs, a busy crew, a festival week,
/// one home with seven failures. Customers call after frost and about other things; most
/// are visited, and their complaint is closed by a check that stands as right since (season_complaints.hpp).
[[nodiscard]] Result<SeasonDone> make_season(desk::Desk& desk, DemoClock& clock, const SeasonPlan& plan,
                                             const std::function<void(int week)>& progress);

}  // namespace wm::demo
