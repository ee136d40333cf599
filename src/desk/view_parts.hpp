// Parts of views that more than one view shows.
#pragma once

#include "checklist/judge.hpp"
#include "desk/in_hand.hpp"
#include "desk/moment.hpp"
#include "desk/view.hpp"

namespace wm::desk {

[[nodiscard]] LimitsView limits_view(const checklist::Limits& limits);
[[nodiscard]] CheckView check_view(Assessment& assessment, const checklist::Check& check);
/// The whole job. `head` is that of the chain of this device.
[[nodiscard]] JobView view_of(const JobInHand& hand, Moment now, const std::string& head);
/// The check of that id, or nullptr.
[[nodiscard]] const CheckView* check_named(const JobView& view, std::string_view id);
[[nodiscard]] JobRow job_row(const record::JobState& state, int zone_minutes);
/// The street and pseudonym of a house, never an address: "Kettlemark Row".
[[nodiscard]] std::string place_of(const record::JobState& state);
/// The shown text of a fact, "" if it is not known.
[[nodiscard]] std::string fact_text(const record::JobState& state, std::string_view key);

}  // namespace wm::desk
