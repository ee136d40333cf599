// Who may do what, once persons have PINs. Without PINs everybody may do everything.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "desk/desk.hpp"
#include "record/chain.hpp"
#include "record/state.hpp"

namespace wm::desk {

/// Kind Refused when the person at the desk has a lesser role. `act` completes "Only a lead may …".
[[nodiscard]] Result<void> may(const Setup& setup, store::Role least, std::string_view act);

/// "Tindo Quellaby, Ode Brannick" names Ode Brannick and not Ode.
[[nodiscard]] bool is_among(std::string_view list, std::string_view person);

/// Whose job it is, where the person at the desk may not write into it: neither the facts crew.lead and
/// crew.members name him nor did he take it over. nullopt where he may.
[[nodiscard]] std::optional<std::string> with_another(const Setup& setup, const record::JobState& job);

/// Who took it over last, else the crew's lead; "another crew" where neither is known.
[[nodiscard]] std::string whose(const record::JobState& job);

/// What the entries themselves ask of the person at the desk: a lead decides on actions, doubts instruments and batches and closes
/// complaints, and nobody writes under another's name.
[[nodiscard]] Result<void> may_say(const Setup& setup, std::span<const record::Draft> drafts);

/// A person writes into the jobs of his own crew. Into another's only the entry that hands it over goes first (TakeOverJob); facts
/// that name him are for the crew to state. It stays on record who took the job, and whose it was.
[[nodiscard]] Result<void> may_write_into(const Setup& setup, const record::JobState& job,
                                          std::span<const record::Draft> drafts);

/// Who stands in an entry as its writer: the person whose PIN was given, else the crew's lead.
[[nodiscard]] inline std::string author(const Setup& setup, std::string lead) {
    return setup.person ? setup.person->name : std::move(lead);
}

/// The same where a name may be given, or nobody's: empty without one and without a person.
[[nodiscard]] inline std::string said_by(const Setup& setup, const std::string& named) {
    return named.empty() ? author(setup, "") : named;
}

}  // namespace wm::desk
