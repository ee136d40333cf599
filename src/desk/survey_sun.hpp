// What a survey can say of the sun before anything is fitted.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "desk/in_hand.hpp"
#include "desk/view.hpp"
#include "figures/shade_chart.hpp"
#include "handover/report_input.hpp"

namespace wm::desk {

/// What a survey can say of the sun before anything is fitted. The band is that of expectation_of() on the plane that is
/// planned, else on the roof as it was measured, else as its facts say. Shade of the horizon line counts in all months;
/// where there is no line, the shade read for the worst month is taken off the low end of every month.
struct SunOfSurvey {
    handover::Expectation expectation;  ///< months, money, assumptions, what is left out
    std::string sun_band, need_band;    ///< "1100 to 1500 kWh"; empty where the year is not estimated
    std::vector<handover::LabelledLine> plane;
    std::optional<int> of_best_plane;   ///< sun of a year, of 100 parts on the plane of d.tilt_best and d.az_equator
    std::vector<figures::ShadeMonth> shade;
    std::optional<int> shade_read;      ///< mean of the times that were read, in per cent
};
[[nodiscard]] SunOfSurvey sun_of_survey(const JobInHand& job, const JobView& view);

}  // namespace wm::desk
