// From a judgement to the text that the journal keeps of it.
#pragma once

#include <string>
#include <vector>

#include "checklist/judge.hpp"
#include "desk/in_hand.hpp"
#include "record/entry.hpp"

namespace wm::desk {

/// The version of the judging code, kept with each outcome.
inline constexpr const char* engine_version = "1";

/// One reading as it will be recorded.
struct PlaceReading {
    checklist::ReadingInput input;
    checklist::Judged judged;
};

/// Judges one reading of a place together with the latest readings of the other places.
[[nodiscard]] Result<PlaceReading> judge_place(Assessment& assessment, const checklist::Check& check,
                                               checklist::ReadingInput input);

/// The record of a judgement. `pending` are readings of the same intent that come before.
[[nodiscard]] record::Judged recorded(Assessment& assessment, const checklist::Check& check,
                                      const PlaceReading& reading,
                                      const std::vector<checklist::ReadingInput>& pending);

/// Whether the reading was set aside because its instrument turned out to read wrongly; a fact that
/// is stated again does not bring it back.
[[nodiscard]] bool is_set_aside(const record::Reading& reading);
/// The reason of such a judgement, by which it is known again.
[[nodiscard]] std::string set_aside_because(const std::string& instrument, const std::string& from);

/// A limit as text in the unit of the check, "" for none.
[[nodiscard]] std::string limit_text(const std::optional<units::Amount>& amount,
                                     const std::optional<units::Unit>& unit);

}  // namespace wm::desk
