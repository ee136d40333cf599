// What the week asks people: readings that look written rather than read, neighbours whose site facts
// contradict each other, and jobs that came back. Facts and questions, never verdicts.
#pragma once

#include <string>
#include <vector>

#include "audit/columns.hpp"
#include "audit/symptom_link.hpp"

namespace wm::audit {

/// A question with the jobs it is about. Whoever is concerned answers before anyone concludes.
struct Observation {
    std::string kind;     ///< "equal readings", "pace", "one photo twice", "neighbours differ", "came back",
                          ///< "complaint and survey"
    std::string subject;  ///< crew or street
    std::string check;    ///< empty where it is about no single check
    std::string sentence;
    std::string what_to_do;
    std::vector<std::string> jobs;
};

struct ObservationSpan {
    std::string first_day, last_day;    ///< both included: neighbours and photos
    std::string first_recent_day;       ///< from here: equal readings and pace
    std::string first_day_of_week;      ///< from here: what came back
    SymptomLinks links{};               ///< without them no complaint leads anywhere
};

/// Equal readings: two or more recent jobs of a crew with a check of four or more measured places that
/// all read the same, and chance under 1 in 100 beside the other crews (Fisher); where all crews do it,
/// the tool explains it and nobody is asked. Pace: the same for jobs with five or more readings 1 to 3 s
/// after the one before. One photo twice: equal fingerprints in two jobs, of which the later is in the
/// week. Neighbours differ: homes of one street with different frost classes. Came back: a failure at a
/// later visit of the week to a job. Complaint and survey: see surveys_behind_complaints.
[[nodiscard]] std::vector<Observation> observations_of(const Columns& columns, const CheckCards& cards,
                                                       const ObservationSpan& span);

}  // namespace wm::audit
