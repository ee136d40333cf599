// Complaints as a person sees them: what was told, what is likely behind it in this house, what became of it.
#pragma once

#include <string>
#include <vector>

namespace wm::desk {

/// A word for what a customer notices, with what to say on the telephone.
struct SymptomView {
    std::string symptom, words;
    std::string at_once;  ///< what the caller does until somebody comes; empty = nothing
};

/// A check that catches a cause, and how the record of this house stands with it.
struct CatchView {
    std::string check, title;
    std::string job;    ///< where it was asked last; empty = in no job of the house
    std::string state;  ///< "does not conform", "accepted as it is", "never read", "put off", "in doubt", "put right", "conforms", "not asked"
    std::string words;  ///< a sentence
    bool read_since{};  ///< of an open complaint: after the customer called
};

/// A cause that can be behind a symptom, with its weight beside the others.
struct LikelyCauseView {
    std::string failure, mode, looks_like, cause;
    double share = 0.0;                ///< of all that can be behind it, 0 to 1
    std::vector<std::string> reasons;  ///< each weight in words, with its source
    std::vector<CatchView> checks;     ///< to be repeated, those that speak most against the house first
    std::string look_also;             ///< where else to look if it is this
};

struct ComplaintView {
    std::string complaint, job, place, customer;
    std::string symptom, symptom_words, at_once;
    std::string words, told_at, since, air, by;
    int age_days = 0;  ///< since it was told, until it was closed
    bool is_open = true;
    std::string cause, cause_words, found, check, check_title, closed_at, visit;  ///< once it is closed
    std::string survey, commissioning;  ///< jobs of the same house; empty = none on record
    std::string revisit;                ///< the visit that is open at this house; empty = none
    std::vector<LikelyCauseView> causes;  ///< likeliest first; empty in lists
    std::vector<CatchView> repeat;        ///< the checks of those causes, each once, in the same order
};

/// A house with its complaints, and what a new one may be.
struct ComplaintSheetView {
    std::string job, place, customer;
    std::vector<SymptomView> symptoms;
    std::vector<ComplaintView> complaints;  ///< open ones first, newest first
    std::string weights;                    ///< where the weights come from
};

}  // namespace wm::desk
