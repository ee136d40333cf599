// Corrective actions as a person sees them: what was found, what was decided, whether it helped.
#pragma once

#include <string>
#include <vector>

#include "audit/results.hpp"
#include "desk/desk.hpp"
#include "record/actions.hpp"

namespace wm::desk {

/// The streams of the office as the journal has them now.
[[nodiscard]] Result<record::OfficeState> office_at(Desk& desk);

struct EffectAsked {
    int after_days = 90;
    std::string today;
};
/// The figures as they are now; the verdict is the one on record where one is. The action must have
/// been carried out.
[[nodiscard]] EffectView effect_view(const record::ActionState& action, const audit::Columns& table,
                                     const audit::CheckCards& cards, const EffectAsked& asked);

/// `today` is the day by which it is due, overdue and so many days old.
[[nodiscard]] ActionView action_view(const record::ActionState& action, const audit::Columns& table,
                                     const audit::CheckCards& cards, const std::string& today, int zone_minutes);

/// All of them: open ones first, oldest first.
[[nodiscard]] std::vector<ActionView> action_views(const record::OfficeState& office, const audit::Columns& table, const audit::CheckCards& cards,
                                                   const std::string& today, int zone_minutes);
/// All of them: open ones first, oldest first, as of that day; without a day, as of today.
[[nodiscard]] Result<std::vector<ActionView>> action_views(Desk& desk, const std::string& today);
[[nodiscard]] Result<std::vector<ActionView>> action_views(Desk& desk);

}  // namespace wm::desk
