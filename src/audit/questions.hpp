// The comparisons a week puts to chance: like beside like, as counts in strata.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "audit/at_once.hpp"
#include "audit/columns.hpp"
#include "audit/fisher.hpp"
#include "audit/symptom_link.hpp"

namespace wm::audit {

enum class QuestionKind {
    Material,   ///< jobs with one batch beside jobs with another, within each crew
    Crew,       ///< jobs of one crew beside those of the others, within the same materials
    Household,  ///< the same, among homes with vulnerable people alone
    Recent,     ///< the last eight weeks beside the weeks before, within each crew
    Deferral,   ///< a check put off by one crew and open after 14 days, beside those of the others
    Drift,      ///< of gauges: asked in drift.hpp, named here for its share of the error
    Complaint,  ///< homes where a check proves nothing beside those where it does; failed is a home that called
};

struct Question {
    QuestionKind kind = QuestionKind::Crew;
    std::string subject;   ///< crew; "relief valve RV-K17"; empty for Recent
    std::string check;
    std::string narrowed;  ///< "homes with vulnerable people"; empty = all jobs
    Tally elsewhere{};     ///< of Household: the crew's tries in all other homes
    std::vector<Comparison> strata;  ///< first: own tries; second: those of the others
    Tally own, others;
    std::vector<std::string> jobs;  ///< own ones that failed, oldest first
    bool only_later = false;        ///< every own try came after every try of the others
    std::vector<std::string> alike{};  ///< of Complaint: own ones that have not called
    std::string since{};               ///< of Complaint: day of the first call
};

struct QuestionSpan {
    std::string first_day, last_day;  ///< both included
    int recent_weeks = 8;
    int forgotten_after_days = 14;
    SymptomLinks links{};  ///< without them nothing is asked of complaints
    Spread spread = Spread::No;  ///< of the counting over all cores: the questions are the same
};

/// All questions that the results of the span can answer: both sides have tries. Two materials, or
/// two checks put off, that divide the jobs in the same way are asked about once.
[[nodiscard]] std::vector<Question> questions_of(const Columns& columns, const QuestionSpan& span);

}  // namespace wm::audit
