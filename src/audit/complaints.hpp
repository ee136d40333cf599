// What complaints lead back to: the checks of a house that could have caught them, and the survey that judged its frost.
#pragma once

#include <string>
#include <vector>

#include "audit/observations.hpp"
#include "audit/questions.hpp"

namespace wm::audit {

/// A check of a house that could have caught what was complained of, and proves nothing.
struct Unproved {
    std::string check;
    std::string what;  ///< "never read", "read only after the call", "put off", or its outcome in words
};

/// A complaint with what it leads back to.
struct ComplaintTrace {
    std::size_t row = 0;        ///< in Columns::rest().complaints
    std::string commissioning;  ///< number of the job at the house; empty = none on record
    std::string survey;
    std::vector<Unproved> unproved;
};

/// Complaints told up to the last day: those of the days from the first, and what is still open then.
[[nodiscard]] std::vector<ComplaintTrace> complaint_traces(const Columns& columns, const SymptomLinks& links, const std::string& first_day,
                                                           const std::string& last_day);

/// For each check that a complaint of the span points to: homes where it was not proved beside homes where it was, same
/// street and kind, all done before the first of these calls and in the two years before the last day (common practice, no
/// source); failed is a home that complained. The checks that divide
/// the homes in the same way are asked about once.
[[nodiscard]] std::vector<Question> complaint_questions(const Columns& columns, const SymptomLinks& links, const QuestionSpan& span);

/// Calls after frost in this week from homes that were surveyed for less frost than their neighbours, street by street.
[[nodiscard]] std::vector<Observation> surveys_behind_complaints(const Columns& columns, const SymptomLinks& links, const ObservationSpan& span);

}  // namespace wm::audit
