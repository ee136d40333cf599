// What stands out beyond chance, as sentences with their figures, jobs and what to do.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "audit/at_once.hpp"
#include "audit/columns.hpp"
#include "audit/drift.hpp"
#include "audit/shares.hpp"
#include "audit/symptom_link.hpp"

namespace wm::audit {

/// A difference that chance hardly explains: a sentence, its figures, and the jobs behind it.
struct Finding {
    std::string kind;     ///< "crew and check", "batch and check", "crew, check and household",
                          ///< "recent weeks and check", "crew and deferrals", "instrument drift", "complaints and check"
    std::string subject;  ///< the crew, "relief valve RV-K17", the instrument; empty for recent weeks
    std::string check;
    std::string sentence;
    double p = 1.0;  ///< of this comparison alone, like beside like
    double q = 1.0;  ///< with false-discovery control over all comparisons of the week
    Tally own;
    Tally others;
    std::vector<std::string> jobs;
    std::string what_to_do{};
};

struct FindingRule {
    std::string first_day, last_day;  ///< results of these days count, both included
    double level = 0.02;              ///< largest q that is a finding
    double p_clear = 0.01;            ///< above this the sentence says that it is weak
    std::int64_t least_tries = 8;     ///< on both sides; of complaints in all, and two calls: what is left out is rare
    SymptomLinks links{};
    Spread spread = Spread::No;       ///< of the tests over all cores: the findings are the same
};

/// Smallest q first. How the error allowed is shared out, in advance: materials 0.28 (few can be
/// behind a check), crews 0.23, crews by household 0.19, forgotten deferrals 0.15, recent weeks
/// 0.05, complaints 0.05, drift of gauges 0.05 (few are compared, and a drift grows without end). What one finding explains is not told again by another: a crew that
/// fails in one kind of household only, recent weeks in which a new batch is behind it.
[[nodiscard]] std::vector<Finding> findings_of(const Columns& columns, const CheckCards& cards,
                                               const FindingRule& rule);

/// The same with the drifts of the gauges over the rule's days, which the week shows as well.
[[nodiscard]] std::vector<Finding> findings_of(const Columns& columns, const CheckCards& cards,
                                               const FindingRule& rule, std::vector<GaugeDrift> drifts);

}  // namespace wm::audit
