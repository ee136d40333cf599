// What the office decided: corrective actions with their effect, and what is not to be trusted.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "record/entry.hpp"
#include "record/state.hpp"

namespace wm::record {

/// One corrective action with all that was said of it. The last word on each point counts.
struct ActionState {
    Origin origin;
    ActionDecided decided;
    std::optional<std::pair<Origin, ActionDone>> done;
    std::vector<std::pair<Origin, EffectChecked>> effects;  ///< in order; of one number of days the last counts
    std::optional<std::pair<Origin, ActionEnded>> ended;

    /// The last check after that many days, or nullptr.
    [[nodiscard]] const EffectChecked* effect_after(std::int64_t days) const;
    /// Closed once a check after `closing_days` or more says that it helped, or a person ended it.
    /// Being carried out closes nothing: without an effect check an action stays open.
    [[nodiscard]] bool is_closed() const;
};

/// Days after which a check may close an action; an earlier one only tells how it goes.
inline constexpr std::int64_t closing_days = 90;

/// The streams of the office, folded.
struct OfficeState {
    std::vector<ActionState> actions;  ///< in the order they were decided
    std::vector<std::pair<Origin, InstrumentDoubted>> doubted_instruments;
    std::vector<std::pair<Origin, BatchDoubted>> doubted_batches;

    [[nodiscard]] const ActionState* action(std::string_view number) const;
};

/// Entries in_order(); those of jobs and devices are passed over. What speaks of an action that is
/// not there is passed over too: its beginning may come with a later bundle.
[[nodiscard]] OfficeState office_of(std::span<const Written> stream);

}  // namespace wm::record
