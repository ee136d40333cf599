// What the audit counts: one result per check and job, with what it may be compared by.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "audit/visit_facts.hpp"
#include "record/state.hpp"

namespace wm::audit {

/// What the checklist knows of a check. The audit cannot open a checklist.
struct CheckCard {
    std::string title;
    char severity = 'P';
    bool hold = false;
    std::string stage{};
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
    std::string day;        ///< of the first reading; empty while there is none
    std::string week;       ///< of that day
    std::map<std::string, std::string> batches;  ///< "relief valve" to "RV-K17"
    std::string kind{};         ///< "commissioning", "service", "revisit"
    std::string frost_class{};  ///< as surveyed: "none", "rare", "regular", "hard"; empty where not asked
    std::string after{};        ///< number of the earlier job; empty = none
    VisitFacts visit{};         ///< filled by whoever keeps the rows: `audit_table` leaves it empty
    std::string made_after{};   ///< hash of the entry these rows were made after; empty = not to be relied on
    friend bool operator==(const JobCard&, const JobCard&) = default;
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
    int seconds = 0;            ///< for one reading of its first go (traces.hpp); 0 = unknown
    friend bool operator==(const CheckResult&, const CheckResult&) = default;
};

/// Something that waits for somebody: an uncorrected failure, or a deferral.
struct OpenItem {
    std::size_t job = 0;
    std::string check;
    std::string owner;
    std::string what;  ///< "does not conform", "inconclusive", "deferred until 2027-03-18"
    std::string since;
    friend bool operator==(const OpenItem&, const OpenItem&) = default;
};

/// A reading that stands, and the instrument it was taken with.
struct InstrumentUse {
    std::size_t job = 0;
    std::string check, place, instrument;
    std::string day;
    std::string calibrated;  ///< day of the calibration it was read under; empty = unknown
    bool is_evidence = true; ///< it was judged, and not set aside since
    std::string text{};      ///< as entered
    friend bool operator==(const InstrumentUse&, const InstrumentUse&) = default;
};

/// A check put off, with the day a reading followed.
struct DeferralRow {
    std::size_t job = 0;
    std::string check, owner;
    std::string since, until;  ///< days
    std::string closed;        ///< day of the first reading after it; empty while there is none
    friend bool operator==(const DeferralRow&, const DeferralRow&) = default;
};

/// A pressure that the network and a valve give, and the crew only reads: what shows a gauge that
/// drifts. One street hangs on one pressure.
struct GaugeReading {
    std::size_t job = 0;
    std::string check, instrument;
    double kpa = 0.0;
    std::string day;
    std::string calibrated{};  ///< day of the calibration it was read under; empty = unknown
    friend bool operator==(const GaugeReading&, const GaugeReading&) = default;
};

struct PhotoUse {
    std::string check, fingerprint;
    friend bool operator==(const PhotoUse&, const PhotoUse&) = default;
};

/// How the readings of a job were written down.
struct JobTrace {
    std::size_t job = 0;
    int entries = 0;  ///< readings that stand
    int hasty = 0;    ///< 1 to 3 s after the reading before
    std::vector<std::string> alike;  ///< checks with four or more measured places that all read the same
    std::vector<PhotoUse> photos;    ///< with a fingerprint
    friend bool operator==(const JobTrace&, const JobTrace&) = default;
};

/// What a customer told of the house of a job.
struct ComplaintRow {
    std::size_t job = 0;
    std::string complaint, symptom;
    std::string day;    ///< on which it was told
    std::string air{};  ///< outside, as told; empty = not told
    bool frost = false; ///< 0 °C or below was told
    std::string closed{};  ///< day; empty while it is open
    std::string cause{};   ///< a failure of the catalogue; empty = none, or not known yet
    friend bool operator==(const ComplaintRow&, const ComplaintRow&) = default;
};

struct AuditTable {
    std::vector<JobCard> jobs;
    std::vector<CheckResult> results;
    std::vector<OpenItem> open;
    std::vector<DeferralRow> deferrals{};
    std::vector<GaugeReading> gauges{};
    std::vector<JobTrace> traces{};  ///< one per job, in the order of jobs
    std::vector<InstrumentUse> uses{};
    std::vector<ComplaintRow> complaints{};
    friend bool operator==(const AuditTable&, const AuditTable&) = default;
};

/// Practice jobs are left out. A job without any reading has a row only where something was put off in it or a customer called
/// about it; it has no day and no week.
[[nodiscard]] AuditTable audit_table(std::span<const record::JobState> jobs);

/// Puts the rows of `more` behind those of `into`.
void add_rows(AuditTable& into, const AuditTable& more);

}  // namespace wm::audit
