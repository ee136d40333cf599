// What the customer gets after the survey: is the house suited, what stands in the way, what the sun may bring.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "figures/shade_chart.hpp"
#include "handover/report_input.hpp"
#include "problem/result.hpp"

namespace wm::handover {

enum class Suited { Yes, WithConditions, No };

/// "suited", "suited with conditions", "not suited".
[[nodiscard]] std::string_view in_words(Suited suited);

/// How a check of the survey came out, other than well.
enum class FoundHow { Wrong, Unsure, PutOff, Accepted };

struct SurveyFinding {
    std::string check_id, title;
    FoundHow how = FoundHow::Wrong;
    std::string until;    ///< day, of what was put off
    std::string on_fail;  ///< of the checklist; printed only where this room has no words for the check
};

struct SurveyReport {
    std::string job, company, contact, place, date;
    std::string surveyor;        ///< who signed the verdict; empty while nobody has
    bool practice = false;
    Suited suited = Suited::No;
    std::vector<SurveyFinding> blocking;    ///< no date may be set until they are cleared
    std::vector<SurveyFinding> conditions;  ///< what the work has to keep to
    std::vector<LabelledLine> plane;        ///< "This side of the roof" / "faces south, 30° steep"
    std::optional<int> of_best_plane;       ///< sun of a year on it, of 100 parts on the best plane here
    std::vector<figures::ShadeMonth> shade;  ///< by month; empty where no horizon line was entered
    std::optional<int> shade_read;           ///< mean of the times of the worst month, of 100 parts; where it was read
    std::string sun_band, need_band;         ///< "1100 to 1500 kWh"; empty where nothing could be estimated
    Expectation expectation;                 ///< its months, assumptions and what is left out
    std::string fingerprint;                 ///< of the company root; empty where nothing is sealed
    std::string head;                        ///< of the record
    Moment written;
    PaperSize paper = PaperSize::A4;
    FontFiles fonts;
};

/// The pages into any book: two, more only where very much was found.
void pour_survey(Book& book, const SurveyReport& report);

/// The file with an empty seal.
[[nodiscard]] Result<std::string> draw_survey(const SurveyReport& report);

}  // namespace wm::handover
