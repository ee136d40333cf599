// What the readings of a holding test say as a line: how fast the pressure falls, and how surely.
#pragma once

#include <optional>

#include "checklist/judge.hpp"
#include "checklist/readings.hpp"

namespace wm::checklist {

/// The trend of a series that plans its holding time (`works_out = ["hold-time"]`). Nothing with
/// fewer than three readings, or where the marks of the gauge are not known: a line says nothing
/// without its least scatter. `drop_allowed` over the planned time, in the unit of the check.
[[nodiscard]] std::optional<Trend> trend_of(const Check& check, const PointTable& points,
                                            const std::optional<InstrumentInUse>& instrument,
                                            std::optional<units::Amount> drop_allowed);

/// A holding test whose line does not prove the allowed rate is inconclusive, whatever its drop;
/// a drop too large stays one.
void weigh_trend(Judged& judged, const Trend& trend);

}  // namespace wm::checklist
