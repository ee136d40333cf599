// The charts of the week, from its view: the same for the window and the letter.
#pragma once

#include "desk/view.hpp"
#include "figures/control_chart.hpp"
#include "figures/funnel_chart.hpp"
#include "figures/pareto.hpp"

namespace wm::desk {

/// What failed most in the week, by title.
[[nodiscard]] figures::ParetoChart pareto_of(const WeekView& week);
/// The share of failures of all results, week by week, in per cent.
[[nodiscard]] figures::ControlChart trend_of(const WeekView& week);
/// Crews by how much they did; no marks where there is nothing to compare.
[[nodiscard]] figures::FunnelChart funnel_of(const WeekView& week);

}  // namespace wm::desk
