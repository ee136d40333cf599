// The charts of the week, from its view: the same for the window and the letter.
#pragma once

#include "desk/view.hpp"
#include "figures/control_chart.hpp"
#include "figures/funnel_chart.hpp"
#include "figures/interval_chart.hpp"
#include "figures/pareto.hpp"

namespace wm::desk {

/// What failed most in the week, by title.
[[nodiscard]] figures::ParetoChart pareto_of(const WeekView& week);
/// The share of failures of all results, week by week, in per cent.
[[nodiscard]] figures::ControlChart trend_of(const WeekView& week);
/// Crews by how much they did; no marks where there is nothing to compare.
[[nodiscard]] figures::FunnelChart funnel_of(const WeekView& week);

/// What a finding compares, as two shares with their intervals; no rows for one that compares no shares.
[[nodiscard]] figures::IntervalChart finding_chart(const FindingView& finding);
/// A gauge reading by reading: its difference from the others of its street in kPa; signalling where the cumulative sum has passed
/// what chance does.
[[nodiscard]] figures::ControlChart drift_of(const GaugeView& gauge);
/// The gauge of that name; nullptr where the week compares none.
[[nodiscard]] const GaugeView* gauge_named(const WeekView& week, const std::string& instrument);

}  // namespace wm::desk
