// What happened, in the past tense: every kind of entry the journal can hold.
//
// An entry is never changed. A correction points at what it corrects, an undo at what it undoes.
// Text of a person (names, addresses, free words) is Personal: the entry holds only a commitment,
// the words live encrypted beside the journal and can be erased without breaking a chain.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "measure/outcome.hpp"

namespace wm::record {

/// Words of or about a person. `commitment` is HMAC-SHA-256 of the words under the customer's
/// random key, 64 hexadecimal digits; `text` is filled when the key still exists and never enters
/// canonical bytes. Two are equal when their commitments are.
struct Personal {
    std::string commitment;
    std::optional<std::string> text;

    /// Words just spoken: `store` fills in the commitment when it appends.
    [[nodiscard]] static Personal said(std::string words) { return {{}, std::move(words)}; }

    friend bool operator==(const Personal& a, const Personal& b) {
        return a.commitment == b.commitment;
    }
};

/// Plain words that may stand in the journal for ever, or a person's words that may not.
using Words = std::variant<std::string, Personal>;

/// The words to show: the text, or "(erased)" when the key is gone.
[[nodiscard]] std::string shown(const Words& words);
[[nodiscard]] std::string shown(const Personal& words);

/// A photo or drawing kept encrypted beside the journal.
struct Attached {
    std::string id;          ///< SHA-256 of the ciphertext, which is the file's name
    std::string media_type;  ///< "image/jpeg", "image/svg+xml", "application/pdf", "message/rfc822"
    std::string
        fingerprint;  ///< of the picture's content, to find one photo used twice; may be empty
    std::optional<Personal> caption;
    friend bool operator==(const Attached&, const Attached&) = default;
};

/// An outcome as it was judged, with all it was judged by, as text. A later engine that judges
/// differently raises a question and never replaces it.
struct Judged {
    measure::Outcome outcome = measure::Outcome::Open;        ///< of the check after this entry
    measure::Outcome place_outcome = measure::Outcome::Open;  ///< of this place alone
    std::optional<measure::Outcome>
        whole_outcome;  ///< of all places together, where there is such a rule
    std::string why;    ///< one sentence for `outcome`
    std::string place_why;
    std::string whole_why;
    std::string tolerance;                ///< as the checklist words it; empty without one
    std::string low, high;                ///< limits as text in `unit`; empty = none
    std::string accept_low, accept_high;  ///< after the guard strip
    std::string uncertainty;              ///< expanded, k = 2, in `unit`
    std::string unit;
    std::string rule;         ///< "guarded", "simple", "none"
    std::string probability;  ///< of conforming, "0.97"; empty where it has no meaning
    std::vector<std::string> places_needed;  ///< {""} for a check without places
    std::string checklist_hash;
    std::string engine;  ///< version of the judging code
    friend bool operator==(const Judged&, const Judged&) = default;
};

// --- jobs ---------------------------------------------------------------------------------------

struct JobOpened {
    std::string number;    ///< "J-<device prefix>-<counter>", as people say it
    std::string id;        ///< random, 32 hexadecimal digits
    std::string customer;  ///< id of the customer whose key locks the personal words
    std::string kind;      ///< "survey", "kit", "commissioning", "service", "revisit"
    std::string checklist;
    std::int64_t checklist_version = 0;
    std::string checklist_hash;  ///< pins the checklist by content
    std::string after_job;       ///< number of the earlier job; empty = none
    bool practice = false;       ///< a practice job stays out of every figure
    friend bool operator==(const JobOpened&, const JobOpened&) = default;
};

struct FactStated {
    std::string key;  ///< "site.latitude"
    Words value;      ///< as entered, with unit where one was written
    friend bool operator==(const FactStated&, const FactStated&) = default;
};

/// Facts stated at once. A later statement of a key replaces an earlier one; both are kept.
struct FactsStated {
    std::vector<FactStated> facts;
    std::string by;
    friend bool operator==(const FactsStated&, const FactsStated&) = default;
};

struct InstrumentRegistered {
    std::string id;                              ///< as engraved, "TW-2"
    std::string type;                            ///< id of the instrument type, "torque wrench"
    std::string range, resolution, uncertainty;  ///< with units, as entered; empty = as the type
    std::string calibrated_on, due;              ///< dates "2027-03-04"; empty = unknown
    std::string certificate;
    std::string as_found;       ///< error found at calibration
    std::string pre_use_check;  ///< result of the check before use
    friend bool operator==(const InstrumentRegistered&, const InstrumentRegistered&) = default;
};

// --- checks -------------------------------------------------------------------------------------

struct ReadingTaken {
    std::string check;
    std::string place;  ///< empty for a check without places
    Words text;         ///< byte for byte as entered
    std::string instrument;
    std::vector<Attached> photos;
    std::string read_at;  ///< local time with offset, "2027-03-04T09:10:00+02:00"
    std::string by;       ///< id of the person, never the name
    Judged judged;
    std::vector<std::string> out_of_order;  ///< hold points that did not conform when this was read
    friend bool operator==(const ReadingTaken&, const ReadingTaken&) = default;
};

/// A reading taken after something was put right.
struct FaultCorrected {
    ReadingTaken reading;
    std::string corrects;  ///< hash of the failing entry
    Personal done;         ///< what was done
    friend bool operator==(const FaultCorrected&, const FaultCorrected&) = default;
};

/// A judgement made again, because a fact or an instrument turned out to be different.
struct Rejudged {
    std::string check;
    std::string place;
    std::string reading;  ///< hash of the entry that is judged again
    Judged judged;
    std::string because;
    friend bool operator==(const Rejudged&, const Rejudged&) = default;
};

struct Deferred {
    std::string check;
    std::string until;  ///< date "2027-03-18"
    std::optional<Personal> owner;
    Personal why;
    std::string reason;  ///< one of the checklist's allowed reasons; empty if it lists none
    std::string by;
    friend bool operator==(const Deferred&, const Deferred&) = default;
};

/// The owner of an earlier Deferred, locked for the house: one of ours stays when the customer's words are erased.
struct OwnerKept {
    std::string entry;  ///< hash of the Deferred
    Personal owner;
    friend bool operator==(const OwnerKept&, const OwnerKept&) = default;
};

/// Written leave to accept what does not conform. Never for severity H.
struct Conceded {
    std::string check;
    std::string by;  ///< id of the person with authority
    Personal why;
    friend bool operator==(const Conceded&, const Conceded&) = default;
};

struct Undone {
    std::string entry;  ///< hash; the undo of an undo brings the first entry back
    std::string by;
    friend bool operator==(const Undone&, const Undone&) = default;
};

/// A person decided between readings of two devices that had not seen each other.
struct ConflictResolved {
    std::string check;
    std::string place;
    std::string keep;  ///< hash of the reading that stands
    std::string by;
    friend bool operator==(const ConflictResolved&, const ConflictResolved&) = default;
};

struct NoteMade {
    Personal text;
    std::string check;  ///< empty = about the job
    std::string by;
    friend bool operator==(const NoteMade&, const NoteMade&) = default;
};

struct NearMissNoted {
    Personal what;
    std::string check;
    std::string by;
    friend bool operator==(const NearMissNoted&, const NearMissNoted&) = default;
};

// --- complaints ---------------------------------------------------------------------------------

/// The customer told that something is not as it should be. It stands in a job of that house, also after
/// its handover.
struct ComplaintTold {
    std::string complaint;          ///< "C-1A2B-00123", as people say it
    std::string symptom;            ///< a word of the list of symptoms
    std::optional<Personal> words;  ///< the customer's own
    std::string told_at;            ///< local time with offset, as in ReadingTaken
    std::string since;              ///< date; empty = not told
    std::string air;                ///< temperature outside as told, with its unit; empty = not told
    std::optional<Personal> by;     ///< who took it
    friend bool operator==(const ComplaintTold&, const ComplaintTold&) = default;
};

/// What a complaint came down to. The last one counts.
struct ComplaintClosed {
    std::string complaint;
    std::string cause;  ///< a failure of the catalogue; empty = none of them
    Personal found;     ///< what it was, and what was done
    std::string check;  ///< the check that proved it right; empty = none
    std::string visit;  ///< number of the job in which it was put right; empty = none
    std::string closed_at;
    std::optional<Personal> by;
    friend bool operator==(const ComplaintClosed&, const ComplaintClosed&) = default;
};

// --- the end of a job ---------------------------------------------------------------------------

enum class SignRole { Crew, Customer };

struct SignedBy {
    SignRole role = SignRole::Crew;
    Personal name;
    std::optional<Attached> strokes;
    std::string summary_hash;         ///< SHA-256 of the summary that was read back
    std::optional<Personal> refused;  ///< why the person would not sign
    std::string by;
    friend bool operator==(const SignedBy&, const SignedBy&) = default;
};

enum class HandoverKind { Full, Restricted };

struct HandedOver {
    HandoverKind outcome = HandoverKind::Full;
    std::string pdf_sha256;
    std::string head_before;  ///< head of the writing device's chain before this entry, as printed
    std::string message;      ///< id of the queued message; empty without an address
    std::optional<Attached> report;
    std::vector<std::string> restricted_by;  ///< ids of checks
    friend bool operator==(const HandedOver&, const HandedOver&) = default;
};

struct JobReopened {
    Personal why;
    std::string by;
    friend bool operator==(const JobReopened&, const JobReopened&) = default;
};

/// The crew left before the end.
struct Abandoned {
    bool left_safe = false;
    Personal why;
    std::vector<std::string> isolated;  ///< what was shut, drained or locked off
    std::string by;
    friend bool operator==(const Abandoned&, const Abandoned&) = default;
};

/// Somebody took on a job that another had begun. From here on the taker writes into it.
struct JobTakenOver {
    std::string by;    ///< as in `by` of other entries
    std::string from;  ///< whose job it was until then
    friend bool operator==(const JobTakenOver&, const JobTakenOver&) = default;
};

// --- post ---------------------------------------------------------------------------------------

struct MessageQueued {
    std::string message;  ///< Message-ID without the angle brackets
    std::string purpose;  ///< "handover", "week"
    Personal to;
    Personal subject;
    Attached bytes;  ///< the very bytes of every try
    friend bool operator==(const MessageQueued&, const MessageQueued&) = default;
};

enum class MessageState { Waiting, Sent, Refused, CannotSend };

struct MessageTried {
    std::string message;
    MessageState state = MessageState::Waiting;
    std::string answer;    ///< of the server, without addresses
    std::string next_try;  ///< hybrid or wall time as text; empty = none
    friend bool operator==(const MessageTried&, const MessageTried&) = default;
};

// --- devices ------------------------------------------------------------------------------------

/// The last entry of a chain.
struct Head {
    std::string device;
    std::int64_t seq = 0;
    std::string hash;
    friend bool operator==(const Head&, const Head&) = default;
};

/// First entry of every chain. A restored or copied folder starts a new device that names the old.
struct DeviceStarted {
    std::string device;
    std::string predecessor;        ///< device id; empty = none
    std::string public_key;         ///< Ed25519, 64 hexadecimal digits
    std::string root_certificate;   ///< DER as hexadecimal digits; empty = no company yet
    std::string company_signature;  ///< of device_claim(), hexadecimal; empty = none
    friend bool operator==(const DeviceStarted&, const DeviceStarted&) = default;
};

/// Nothing of that device counts from this sequence on: a lost tablet.
struct DeviceRevoked {
    std::string device;
    std::int64_t from_seq = 0;
    std::string company_signature;
    std::string because;
    friend bool operator==(const DeviceRevoked&, const DeviceRevoked&) = default;
};

/// Somebody of ours said of a device that came by bundle whether it is ours. The last word counts.
struct DeviceJudged {
    std::string device;
    std::string word;  ///< "accepted", "refused"
    std::optional<Personal> by;
    friend bool operator==(const DeviceJudged&, const DeviceJudged&) = default;
};

/// When the journal was opened it ended before what this device had saved; see store/head_kept.cpp.
struct EntriesLost {
    std::string device;
    std::int64_t from = 0, to = 0;  ///< numbers in its chain, both included
    friend bool operator==(const EntriesLost&, const EntriesLost&) = default;
};

/// The writer had all of these before its eyes from here on. Heads of every chain it knows.
struct Received {
    std::vector<Head> heads;
    friend bool operator==(const Received&, const Received&) = default;
};

/// The wall clock of the device was moved; see clock_watch.hpp.
struct ClockJumped {
    std::string from, to;  ///< what it would have shown, and what it showed: UTC to the second
    std::int64_t by_ms = 0;  ///< forward positive
    std::string seen;  ///< "within a boot", "across a restart"
    friend bool operator==(const ClockJumped&, const ClockJumped&) = default;
};

/// Whence the times of a device's entries come, from this one on. A device that never said so read its clock.
struct TimeSourceChanged {
    std::string to;  ///< "given by hand", "the clock"
    friend bool operator==(const TimeSourceChanged&, const TimeSourceChanged&) = default;
};

/// The customer's key and words are deleted; every device that receives this does the same.
struct CustomerErased {
    std::string customer;
    friend bool operator==(const CustomerErased&, const CustomerErased&) = default;
};

// --- the office: entries without a job ----------------------------------------------------------

/// A cause was named for something that the week audit found, and a corrective action decided on.
struct ActionDecided {
    std::string action;   ///< "A-1A2B-0003", as people say it
    std::string finding;  ///< the audit's word for its kind, "crew and check"
    Words subject;        ///< of a crew a person's words; a batch or an instrument is a plain code
    std::string check;    ///< empty = about no single check
    std::string week;     ///< "2027-W09", in which it was found
    std::string cause;    ///< a word of the short list
    Personal cause_words;
    Personal remedy;  ///< what is to be done
    Personal owner;
    std::string due;      ///< date
    std::string follows;  ///< an earlier action that did not help; empty = none
    std::optional<Personal> by;
    friend bool operator==(const ActionDecided&, const ActionDecided&) = default;
};

/// The corrective action was carried out; its effect counts from the day after.
struct ActionDone {
    std::string action;
    std::string on;  ///< date
    std::optional<Personal> words;
    std::optional<Personal> by;
    friend bool operator==(const ActionDone&, const ActionDone&) = default;
};

enum class EffectVerdict { Helped, NoProof, Worse };

/// Failures of tries before and after an action, and what the interval of their difference says.
struct EffectChecked {
    std::string action;
    std::int64_t after_days = 0;                  ///< 30, 90
    std::string before_from, after_from, until;   ///< dates, each included
    std::int64_t before_failed = 0, before_tries = 0, after_failed = 0, after_tries = 0;
    std::string difference, low, high;            ///< share before less share after, 95 %; empty = none
    EffectVerdict verdict = EffectVerdict::NoProof;
    std::optional<Personal> by;
    friend bool operator==(const EffectChecked&, const EffectChecked&) = default;
};

/// A person closes an action whose effect was not shown, and says why.
struct ActionEnded {
    std::string action;
    Personal why;
    std::optional<Personal> by;
    friend bool operator==(const ActionEnded&, const ActionEnded&) = default;
};

/// An instrument turned out to read wrongly: what it read in these days is no evidence.
struct InstrumentDoubted {
    std::string instrument;
    std::string from;      ///< date, included
    std::string until;     ///< date, included; empty = until it is registered with a new calibration
    std::string as_found;  ///< the error with its unit; empty = unknown
    Personal why;
    std::optional<Personal> by;
    friend bool operator==(const InstrumentDoubted&, const InstrumentDoubted&) = default;
};

/// A batch of parts is not to be fitted any more, and is looked at where it was.
struct BatchDoubted {
    std::string batch;
    Personal why;
    std::optional<Personal> by;
    friend bool operator==(const BatchDoubted&, const BatchDoubted&) = default;
};

/// A kind that this version does not know, kept byte for byte.
struct Unknown {
    std::string kind;
    std::string body;  ///< canonical text
    friend bool operator==(const Unknown&, const Unknown&) = default;
};

using Body =
    std::variant<JobOpened, FactsStated, InstrumentRegistered, ReadingTaken, FaultCorrected,
                 Rejudged, Deferred, Conceded, Undone, ConflictResolved, NoteMade, NearMissNoted,
                 SignedBy, HandedOver, JobReopened, Abandoned, MessageQueued, MessageTried,
                 DeviceStarted, DeviceRevoked, Received, ClockJumped, CustomerErased, ActionDecided,
                 ActionDone, EffectChecked, ActionEnded, InstrumentDoubted, BatchDoubted,
                 JobTakenOver, ComplaintTold, ComplaintClosed, TimeSourceChanged,
                 DeviceJudged, OwnerKept, EntriesLost, Unknown>;

/// One entry of one chain.
struct Entry {
    std::string device;
    std::int64_t seq = 0;  ///< 1, 2, 3, …
    std::string prev;      ///< hash of the entry before; 64 zeros for the first
    std::string time;      ///< hybrid clock, see clock.hpp
    std::string job;       ///< number of the job; empty for entries of the device
    Body body;
    friend bool operator==(const Entry&, const Entry&) = default;
};

/// An entry with the hash of its canonical line.
struct Written {
    Entry entry;
    std::string hash;
    friend bool operator==(const Written&, const Written&) = default;
};

/// For std::visit over a Body without a default: a new kind does not compile until every reader
/// has an opinion.
template <class... F>
struct Cases : F... {
    using F::operator()...;
};
template <class... F>
Cases(F...) -> Cases<F...>;

}  // namespace wm::record
