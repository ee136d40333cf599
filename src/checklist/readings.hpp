// What a person entered for a check, from text to values.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "checklist/evaluate.hpp"
#include "checklist/model.hpp"
#include "problem/result.hpp"

namespace wm::checklist {

/// The answer at one place, as far as its kind has one.
struct Answer {
    std::optional<units::Amount> number;          ///< quantity, place with a number
    std::optional<bool> yes;                      ///< confirm, photo
    std::string word;                             ///< choice as the checklist writes it; text
    std::optional<PointTable> points;             ///< series
    std::map<std::string, units::Amount> extras;  ///< series; named as expressions do
    std::optional<units::Unit> entered_in{};      ///< the unit of the number or the series, where it is one
};

/// Reads an entry in one of the forms of the outside contract:
///   confirm  yes, no                     choice   one of its words, letters in any case
///   quantity "23.5 N·m" or "23,5"        text     anything but blanks
///   series   "0 min=480 kPa; 2 min=480" · "0 min: riser=41 °C, downcomer=33; water start=18.2 °C"
/// A bare number takes the unit written elsewhere in the entry, else that of the check. The
/// problem says which part was not understood and what would be.
[[nodiscard]] Result<Answer> read_answer(const Check& check, std::string_view place,
                                         std::string_view text);

/// A series alone; times must rise, every point must have every channel, at most 5000 points.
[[nodiscard]] Result<Answer> read_series(const Check& check, std::string_view text);

/// Which of the words is meant, capital letters aside; the problem lists them.
[[nodiscard]] Result<std::string> word_among(const std::vector<std::string>& accept,
                                             const std::vector<std::string>& refuse,
                                             std::string_view text, std::string_view where);

/// yes or no.
[[nodiscard]] Result<bool> read_yes_or_no(std::string_view text, std::string_view where);

/// Where a message about the place of a check points: "anchor-torque, place 2".
[[nodiscard]] std::string where_of(const Check& check, std::string_view place);

}  // namespace wm::checklist
