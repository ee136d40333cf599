// Checks the tool decides by a rule over facts, instruments and the other checks.
#pragma once

#include <string>
#include <vector>

#include "desk/in_hand.hpp"

namespace wm::desk {

struct RuleAnswer {
    measure::Outcome outcome = measure::Outcome::Open;
    std::string why;
    std::vector<std::string> missing_facts;
};

/// Height card, plumbing and electrical licences run out today or later, and two people at least.
[[nodiscard]] RuleAnswer crew_licences(const JobInHand& job);

/// Every reading that wants a calibrated instrument names one that is registered, in date today
/// and passed its check before use. Before any such reading, every registered instrument counts.
[[nodiscard]] RuleAnswer instruments_due(const JobInHand& job);

/// Instruments in date for seven days from today, fall gear inspected within twelve months.
[[nodiscard]] RuleAnswer kit_ready(const JobInHand& job);

/// The same standings under the titles of their checks, for sentences that people read.
[[nodiscard]] std::vector<record::CheckStanding> by_title(const JobInHand& job, std::vector<record::CheckStanding> checks);

/// The refusal to sign or to hand over while checks stand in the way: at most five titles, and how many more.
[[nodiscard]] Problem in_the_way_of_signing(const JobInHand& job, const std::vector<record::CheckStanding>& checks);

/// Nothing stands against signing.
[[nodiscard]] RuleAnswer open_items(const std::vector<record::CheckStanding>& checks);

/// Ids of the checks that stand against a survey, in the order of the list.
struct SurveyFindings {
    std::vector<std::string> open;        ///< neither done nor accepted as it is
    std::vector<std::string> blocking;    ///< hold points that do not conform
    std::vector<std::string> conditions;  ///< accepted as it is, or no hold point
};
[[nodiscard]] SurveyFindings survey_findings(const std::vector<record::CheckStanding>& checks);

/// Suited, suited with conditions (a concession, or a failure that is no hold point), not suited.
[[nodiscard]] RuleAnswer survey_verdict(const std::vector<record::CheckStanding>& checks);

}  // namespace wm::desk
