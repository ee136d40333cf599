// What the readings of a holding test say as a line: how fast the pressure falls, and how surely.
#pragma once

#include <optional>

#include "checklist/judge.hpp"
#include "checklist/readings.hpp"

namespace wm::checklist {

/// The trend of a series that plans its holding time (`works_out = ["hold-time"]`). Nothing with
/// fewer than three readings, or where the marks of the gauge are not known: a line says nothing
/// without its least scatter. From `drop` come the drop allowed over the planned time, and what
/// was added to the plain drop because the water warmed or cooled; the line is drawn through
/// readings corrected by the same, spread evenly over the time. The words speak in the unit the
/// readings were entered in, with that of the check in brackets.
[[nodiscard]] std::optional<Trend> trend_of(const Check& check, const PointTable& points,
                                            const std::optional<InstrumentInUse>& instrument,
                                            const Judged& drop,
                                            const std::optional<units::Unit>& entered_in = std::nullopt);

/// A holding test whose line does not prove the allowed rate is inconclusive, whatever its drop;
/// a drop too large stays one.
void weigh_trend(Judged& judged, const Trend& trend);

}  // namespace wm::checklist
