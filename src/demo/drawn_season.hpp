// A season drawn straight as the audit's table, for trying the audit on many seasons.
#pragma once

#include "audit/results.hpp"
#include "audit/symptom_link.hpp"
#include "demo/season_visits.hpp"

namespace wm::demo {

/// The same visits and the same chances as make_season, without a desk: no checklist is evaluated,
/// no reading is entered, judged, corrected or stored. What that leaves out: a reading that turns
/// out inconclusive or out of order, a check that another check's outcome makes inapplicable, and
/// the wording of checks; a failed reading here always counts as a failure, and every failure is
/// put right; the visits after complaints, of which only the check that cured them is there. Same plan, same table. Jobs are numbered D-0001 and so on, crews go by their lead.
[[nodiscard]] audit::AuditTable drawn_season(const SeasonPlan& plan);

/// The catalogue of failures as far as the drawn checks go.
[[nodiscard]] audit::SymptomLinks drawn_links();

/// Titles and severities are of no matter here: each check goes by its id.
[[nodiscard]] audit::CheckCards drawn_cards();

}  // namespace wm::demo
