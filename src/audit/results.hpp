// What the audit counts: one result per check and job, with what it may be compared by.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "record/state.hpp"

namespace wm::audit {

/// What the checklist knows of a check. The audit cannot open a checklist.
struct CheckCard {
    std::string title;
    char severity = 'P';
    bool hold = false;
};
using CheckCards = std::map<std::string, CheckCard, std::less<>>;
/// As people know the check; its id where no card names it.
[[nodiscard]] std::string title_of(const CheckCards& cards, const std::string& check);

/// Things jobs are alike or different in; like is only compared with like.
struct JobCard {
    std::string job;
    std::string crew;
    std::string street;
    std::string roof;       ///< covering
    std::string system;     ///< direct, indirect
    bool vulnerable = false;
    std::string day;        ///< of the first reading
    std::string week;       ///< of that day
    std::map<std::string, std::string> batches;  ///< "relief valve" to "RV-K17"
};

/// The first judged result of one check in one job.
struct CheckResult {
    std::size_t job = 0;        ///< index into AuditTable::jobs
    std::string check;
    bool failed = false;        ///< did not conform at the first try of any place
    bool inconclusive = false;  ///< and did not fail
    bool corrected = false;     ///< conforms now
    std::string outcome;        ///< as it stands now, in words
    std::string day;            ///< of the first reading
};

/// Something that waits for somebody: an uncorrected failure, or a deferral.
struct OpenItem {
    std::size_t job = 0;
    std::string check;
    std::string owner;
    std::string what;  ///< "does not conform", "inconclusive", "deferred until 2027-03-18"
    std::string since;
};

struct AuditTable {
    std::vector<JobCard> jobs;
    std::vector<CheckResult> results;
    std::vector<OpenItem> open;
};

/// Practice jobs are left out. Jobs without any reading give no row.
[[nodiscard]] AuditTable audit_table(std::span<const record::JobState> jobs);

}  // namespace wm::audit
