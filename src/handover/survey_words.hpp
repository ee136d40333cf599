// The sentences of the survey report, short enough to be read in a kitchen.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "handover/page_one_words.hpp"
#include "handover/survey_report.hpp"

namespace wm::handover {

/// What was found, and what would cure it.
struct FoundAndCure {
    std::string found, cure;
};

struct SurveyWords {
    std::string headline;              ///< "Suited", "Suited, if we keep to some points", "Not suited as it is"
    std::vector<std::string> verdict;
    std::vector<FoundAndCure> blocking, conditions;
    std::vector<std::string> next;     ///< what happens now
    std::vector<SafetySentence> cautions;  ///< for who lives there, the worst first
    std::vector<std::string> sun, shade;
    std::vector<std::string> checking;  ///< how to check this paper; empty where it is not sealed
    std::vector<GlossaryTerm> terms;    ///< every trade word of the paper
};

/// Whether this room has everyday words for what the check asks.
[[nodiscard]] bool has_survey_words(std::string_view check_id);

/// A check without words of ours is told by its title and by what its checklist says to do.
[[nodiscard]] SurveyWords survey_words(const SurveyReport& report);

}  // namespace wm::handover
