// What is true of a job now: the fold of its entries.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "measure/outcome.hpp"
#include "record/entry.hpp"

namespace wm::record {

/// Where an entry came from, and when.
struct Origin {
    std::string entry;  ///< hash
    std::string device;
    std::int64_t seq = 0;
    std::string time;
    std::size_t order = 0;  ///< place in the fold: a later entry has a larger one
    friend bool operator==(const Origin&, const Origin&) = default;
};

/// One reading with every judgement it ever had; the last one counts.
struct Reading {
    Origin origin;
    ReadingTaken taken;
    std::vector<Judged> judgements;            ///< first as taken, then each Rejudged
    std::vector<std::string> because;          ///< of each Rejudged
    std::optional<FaultCorrected> correction;  ///< set when this reading followed a correction
    std::optional<std::string> undone_by;
    std::map<std::string, std::int64_t> past;  ///< last sequence of each device its writer had seen

    [[nodiscard]] const Judged& judged() const { return judgements.back(); }
};

/// A reading that did not conform, and what became of it.
struct Failure {
    std::string reading;  ///< hash
    std::string place;
    /// Hashes of corrections, in order: those that name this reading and later ones of its place.
    std::vector<std::string> corrected_by;
    bool withdrawn = false;  ///< undone as a slip, or judged again and found to conform
};

struct DeferralState {
    Origin origin;
    Deferred deferred;
};

struct ConcessionState {
    Origin origin;
    Conceded conceded;
};

/// Readings of one place, none of which had seen the other.
struct Conflict {
    std::string place;
    std::vector<std::string> readings;  ///< hashes
};

/// A person's choice between conflicting readings.
struct DecisionState {
    Origin origin;
    ConflictResolved resolved;
    std::map<std::string, std::int64_t> past;
};

/// All that was said of one check, and what follows from it.
///
/// The outcome is the worst of the places needed and of every further place that was read (a needed
/// place without a reading is open), of the rule over all places together, and of all readings in
/// conflict; a deferral that no reading followed makes it deferred unless it conforms already.
struct CheckState {
    std::string id;

    std::vector<Reading> readings;  ///< all of them, in order; undone ones are marked
    std::vector<std::pair<Origin, Rejudged>> rejudgements;
    std::vector<DeferralState> deferrals;
    std::vector<ConcessionState> concessions;
    std::vector<DecisionState> decisions;

    std::map<std::string, std::string> latest;  ///< place → hash of the reading that stands
    std::vector<Failure> failures;
    std::optional<DeferralState> deferral;      ///< the last, unless a reading followed
    std::optional<ConcessionState> concession;  ///< the last, unless a reading followed
    std::vector<Conflict> conflicts;
    measure::Outcome read_outcome = measure::Outcome::Open;  ///< of the readings alone
    measure::Outcome outcome = measure::Outcome::Open;
    std::string why;

    [[nodiscard]] const Reading* find(std::string_view hash) const;
    [[nodiscard]] const Reading* standing_at(std::string_view place) const;
    /// Failures that were neither corrected nor withdrawn.
    [[nodiscard]] std::size_t failures_without_correction() const;
};

/// Computes the second half of a check from the first. `undone` holds hashes of undone entries.
void derive(CheckState& check, const std::map<std::string, std::string>& undone);

struct FactState {
    Words value;
    std::vector<std::pair<Origin, Words>> history;  ///< oldest first; an undone one stays
};

struct SignatureState {
    Origin origin;
    SignedBy by;
    bool stale = false;  ///< a check changed after it was given
};

struct HandoverState {
    Origin origin;
    HandedOver handed;
};

struct MessageRecord {
    Origin origin;
    MessageQueued queued;
    std::vector<MessageTried> tries;
};

/// A complaint with what became of it.
struct ComplaintState {
    Origin origin;
    ComplaintTold told;
    std::vector<std::pair<Origin, ComplaintClosed>> closings;  ///< in order; undone ones are among them
};

enum class JobPhase { Open, Signed, HandedOver, Restricted, Refused, Abandoned };

/// "open", "signed", "handed over", "restricted", "refused", "abandoned".
[[nodiscard]] std::string_view in_words(JobPhase phase);

struct JobState {
    std::string number;
    std::optional<JobOpened> opened;
    std::string opened_at;
    std::string last_time;
    std::size_t entries = 0;  ///< of this job
    std::size_t folded = 0;   ///< entries folded in, those of devices included

    std::map<std::string, FactState> facts;
    std::map<std::string, InstrumentRegistered> instruments;
    std::map<std::string, CheckState> checks;  ///< only checks that were touched
    std::vector<std::pair<Origin, NoteMade>> notes;
    std::vector<std::pair<Origin, NearMissNoted>> near_misses;
    std::vector<SignatureState> signatures;  ///< since the job was last opened
    std::optional<HandoverState> handover;
    std::vector<HandoverState> earlier_handovers;
    std::vector<std::pair<Origin, JobReopened>> reopenings;
    std::optional<std::pair<Origin, Abandoned>> abandoned;
    std::map<std::string, MessageRecord> messages;
    std::vector<std::pair<Origin, JobTakenOver>> taken_over;  ///< oldest first
    std::vector<ComplaintState> complaints;  ///< in order; undone ones are among them
    std::vector<std::pair<Origin, ClockJumped>> clock_jumps;  ///< of all devices, at any time
    std::set<std::string> devices;                            ///< that wrote into this job
    std::set<std::string> timed_by_hand;  ///< devices whose times are given by hand, as of the last entry folded in
    std::set<std::string> by_hand;        ///< hashes of this job's entries whose time was given by hand
    std::vector<std::pair<Origin, Unknown>> unknown;
    bool erased = false;

    /// Device → what it had seen: device → last sequence. Fed by Received entries.
    std::map<std::string, std::map<std::string, std::int64_t>> seen;
    std::vector<std::pair<Origin, Undone>> undos;
    std::map<std::string, std::string> undone;  ///< hash of an entry that does not count → by whom

    [[nodiscard]] JobPhase phase() const;
    [[nodiscard]] const CheckState* check(std::string_view id) const;
    [[nodiscard]] bool is_undone(const Origin& origin) const {
        return undone.contains(origin.entry);
    }
    /// Complaints that were not taken back, oldest first.
    [[nodiscard]] std::vector<const ComplaintState*> standing_complaints() const;
    /// The closing that counts; nullptr while the complaint is open.
    [[nodiscard]] const ComplaintClosed* closing_of(const ComplaintState& complaint) const;
    /// Jumps of a clock by which something in this job was timed: of devices that wrote into it, between
    /// its opening and its last entry.
    [[nodiscard]] std::vector<ClockJumped> jumps_meanwhile() const;
    /// The current value of a fact; nullptr when it was never stated.
    [[nodiscard]] const Words* fact(std::string_view key) const;
};

/// The job after one more entry. Total: every entry that was ever written can be folded. Entries
/// come in the order of in_order(); Received, ClockJumped, TimeSourceChanged and CustomerErased entries of any device
/// may be among them.
[[nodiscard]] JobState after(JobState job, const Written& written);

/// The same in place, for long folds.
void fold_in(JobState& job, const Written& written);

/// The state of one job from entries in any order. Entries of other jobs are skipped.
[[nodiscard]] JobState folded(std::string_view job, std::span<const Written> entries);

}  // namespace wm::record
