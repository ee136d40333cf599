// The sentences of page one, short enough to be read in a kitchen.
#pragma once

#include <string>
#include <vector>

#include "handover/report_input.hpp"

namespace wm::handover {

inline constexpr int most_prose_words = 150;
inline constexpr int most_sentence_words = 20;
inline constexpr std::size_t most_corrections_shown = 3;
inline constexpr std::size_t most_restrictions_shown = 2;

/// All prose of page one; tables of names, dates and figures are not prose.
struct PageOneWords {
    std::string headline;              ///< "Handed over in full"
    std::vector<std::string> outcome;  ///< sentences under the headline, restrictions last
    std::size_t restrictions = 0;      ///< how many of them are restrictions
    std::vector<std::string> hot_water;
    std::vector<std::string> never;
    std::vector<std::string> checking;  ///< how to check this paper
};

/// Chooses the sentences from the state and what is fitted. Restrictions longer than
/// most_sentence_words are cut there with "…"; page 3 has them in full.
[[nodiscard]] PageOneWords page_one_words(const ReportInput& input);

/// Words of a text, as counted for the limits above: what stands between white space and holds a
/// letter or digit.
[[nodiscard]] int count_words(std::string_view text);

}  // namespace wm::handover
