// How the week says that what proved a check proves it no more.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "record/state.hpp"

namespace wm::audit {

/// Begins the words of such an open item; the reason on record follows in brackets and names the instrument.
inline constexpr std::string_view evidence_withdrawn = "its evidence was withdrawn";

[[nodiscard]] inline bool is_withdrawn(std::string_view what) { return what.starts_with(evidence_withdrawn); }

/// "its evidence was withdrawn (instrument in doubt: PG-4 from 2027-03-01)" of a check that is open again because a reading that
/// had been judged was set aside. nullopt for any other check, and for one that was conceded after that.
[[nodiscard]] std::optional<std::string> withdrawn_in_words(const record::CheckState& check);

}  // namespace wm::audit
