// The fields of every kind of entry, listed once: the codec writes, reads and searches by this
// list. For codec.cpp only.
#pragma once

#include <concepts>
#include <string_view>
#include <type_traits>

#include "record/entry.hpp"

namespace wm::record {

template <class E, class T>
concept Like = std::same_as<std::remove_const_t<E>, T>;

// `must` names a field that is always there, `may` one that is left out while it is empty.
// A name never changes and is never given to another field.

template <class Io, Like<Attached> E>
void list_fields(Io& io, E& e) {
    io.must("id", e.id);
    io.must("media_type", e.media_type);
    io.may("fingerprint", e.fingerprint);
    io.may("caption", e.caption);
}

template <class Io, Like<Judged> E>
void list_fields(Io& io, E& e) {
    io.must("outcome", e.outcome);
    io.must("place_outcome", e.place_outcome);
    io.may("whole_outcome", e.whole_outcome);
    io.may("why", e.why);
    io.may("place_why", e.place_why);
    io.may("whole_why", e.whole_why);
    io.may("tolerance", e.tolerance);
    io.may("low", e.low);
    io.may("high", e.high);
    io.may("accept_low", e.accept_low);
    io.may("accept_high", e.accept_high);
    io.may("uncertainty", e.uncertainty);
    io.may("unit", e.unit);
    io.may("rule", e.rule);
    io.may("probability", e.probability);
    io.may("places_needed", e.places_needed);
    io.may("checklist_hash", e.checklist_hash);
    io.may("engine", e.engine);
}

template <class Io, Like<FactStated> E>
void list_fields(Io& io, E& e) {
    io.must("key", e.key);
    io.must("value", e.value);
}

template <class Io, Like<Head> E>
void list_fields(Io& io, E& e) {
    io.must("device", e.device);
    io.must("seq", e.seq);
    io.must("hash", e.hash);
}

template <class Io, Like<JobOpened> E>
void list_fields(Io& io, E& e) {
    io.must("number", e.number);
    io.may("id", e.id);
    io.may("customer", e.customer);
    io.must("job_kind", e.kind);
    io.must("checklist", e.checklist);
    io.must("checklist_version", e.checklist_version);
    io.must("checklist_hash", e.checklist_hash);
    io.may("after_job", e.after_job);
    io.may("practice", e.practice);
}

template <class Io, Like<FactsStated> E>
void list_fields(Io& io, E& e) {
    io.must("facts", e.facts);
    io.may("by", e.by);
}

template <class Io, Like<InstrumentRegistered> E>
void list_fields(Io& io, E& e) {
    io.must("id", e.id);
    io.must("type", e.type);
    io.may("range", e.range);
    io.may("resolution", e.resolution);
    io.may("uncertainty", e.uncertainty);
    io.may("calibrated_on", e.calibrated_on);
    io.may("due", e.due);
    io.may("certificate", e.certificate);
    io.may("as_found", e.as_found);
    io.may("pre_use_check", e.pre_use_check);
}

template <class Io, Like<ReadingTaken> E>
void list_fields(Io& io, E& e) {
    io.must("check", e.check);
    io.may("place", e.place);
    io.must("text", e.text);
    io.may("instrument", e.instrument);
    io.may("photos", e.photos);
    io.may("read_at", e.read_at);
    io.may("by", e.by);
    io.must("judged", e.judged);
    io.may("out_of_order", e.out_of_order);
}

template <class Io, Like<FaultCorrected> E>
void list_fields(Io& io, E& e) {
    io.must("reading", e.reading);
    io.must("corrects", e.corrects);
    io.must("done", e.done);
}

template <class Io, Like<Rejudged> E>
void list_fields(Io& io, E& e) {
    io.must("check", e.check);
    io.may("place", e.place);
    io.must("reading", e.reading);
    io.must("judged", e.judged);
    io.may("because", e.because);
}

template <class Io, Like<Deferred> E>
void list_fields(Io& io, E& e) {
    io.must("check", e.check);
    io.may("until", e.until);
    io.may("owner", e.owner);
    io.must("why", e.why);
    io.may("reason", e.reason);
    io.may("by", e.by);
}

template <class Io, Like<Conceded> E>
void list_fields(Io& io, E& e) {
    io.must("check", e.check);
    io.must("by", e.by);
    io.must("why", e.why);
}

template <class Io, Like<Undone> E>
void list_fields(Io& io, E& e) {
    io.must("entry", e.entry);
    io.may("by", e.by);
}

template <class Io, Like<ConflictResolved> E>
void list_fields(Io& io, E& e) {
    io.must("check", e.check);
    io.may("place", e.place);
    io.must("keep", e.keep);
    io.may("by", e.by);
}

template <class Io, Like<NoteMade> E>
void list_fields(Io& io, E& e) {
    io.must("text", e.text);
    io.may("check", e.check);
    io.may("by", e.by);
}

template <class Io, Like<NearMissNoted> E>
void list_fields(Io& io, E& e) {
    io.must("what", e.what);
    io.may("check", e.check);
    io.may("by", e.by);
}

template <class Io, Like<SignedBy> E>
void list_fields(Io& io, E& e) {
    io.must("role", e.role);
    io.must("name", e.name);
    io.may("strokes", e.strokes);
    io.may("summary_hash", e.summary_hash);
    io.may("refused", e.refused);
    io.may("by", e.by);
}

template <class Io, Like<HandedOver> E>
void list_fields(Io& io, E& e) {
    io.must("outcome", e.outcome);
    io.must("pdf_sha256", e.pdf_sha256);
    io.must("head_before", e.head_before);
    io.may("message", e.message);
    io.may("report", e.report);
    io.may("restricted_by", e.restricted_by);
}

template <class Io, Like<JobReopened> E>
void list_fields(Io& io, E& e) {
    io.must("why", e.why);
    io.may("by", e.by);
}

template <class Io, Like<Abandoned> E>
void list_fields(Io& io, E& e) {
    io.may("left_safe", e.left_safe);
    io.must("why", e.why);
    io.may("isolated", e.isolated);
    io.may("by", e.by);
}

template <class Io, Like<MessageQueued> E>
void list_fields(Io& io, E& e) {
    io.must("message", e.message);
    io.must("purpose", e.purpose);
    io.must("to", e.to);
    io.must("subject", e.subject);
    io.must("bytes", e.bytes);
}

template <class Io, Like<MessageTried> E>
void list_fields(Io& io, E& e) {
    io.must("message", e.message);
    io.must("state", e.state);
    io.may("answer", e.answer);
    io.may("next_try", e.next_try);
}

template <class Io, Like<DeviceStarted> E>
void list_fields(Io& io, E& e) {
    io.must("device", e.device);
    io.may("predecessor", e.predecessor);
    io.must("public_key", e.public_key);
    io.may("root_certificate", e.root_certificate);
    io.may("company_signature", e.company_signature);
}

template <class Io, Like<DeviceRevoked> E>
void list_fields(Io& io, E& e) {
    io.must("device", e.device);
    io.must("from_seq", e.from_seq);
    io.must("company_signature", e.company_signature);
    io.may("because", e.because);
}

template <class Io, Like<Received> E>
void list_fields(Io& io, E& e) {
    io.must("heads", e.heads);
}

template <class Io, Like<JobTakenOver> E>
void list_fields(Io& io, E& e) {
    io.must("by", e.by);
    io.must("from", e.from);
}

template <class Io, Like<ComplaintTold> E>
void list_fields(Io& io, E& e) {
    io.must("complaint", e.complaint);
    io.must("symptom", e.symptom);
    io.may("words", e.words);
    io.may("told_at", e.told_at);
    io.may("since", e.since);
    io.may("air", e.air);
    io.may("by", e.by);
}

template <class Io, Like<ComplaintClosed> E>
void list_fields(Io& io, E& e) {
    io.must("complaint", e.complaint);
    io.may("cause", e.cause);
    io.must("found", e.found);
    io.may("check", e.check);
    io.may("visit", e.visit);
    io.may("closed_at", e.closed_at);
    io.may("by", e.by);
}

template <class Io, Like<ClockJumped> E>
void list_fields(Io& io, E& e) {
    io.must("from", e.from);
    io.must("to", e.to);
    io.must("by_ms", e.by_ms);
    io.may("seen", e.seen);
}

template <class Io, Like<EntriesLost> E>
void list_fields(Io& io, E& e) {
    io.must("device", e.device);
    io.must("from", e.from);
    io.must("to", e.to);
}

template <class Io, Like<TimeSourceChanged> E>
void list_fields(Io& io, E& e) {
    io.must("to", e.to);
}

template <class Io, Like<DeviceJudged> E>
void list_fields(Io& io, E& e) {
    io.must("device", e.device);
    io.must("word", e.word);
    io.may("by", e.by);
}

template <class Io, Like<OwnerKept> E>
void list_fields(Io& io, E& e) {
    io.must("entry", e.entry);
    io.must("owner", e.owner);
}

template <class Io, Like<CustomerErased> E>
void list_fields(Io& io, E& e) {
    io.must("customer", e.customer);
}

template <class Io, Like<ActionDecided> E>
void list_fields(Io& io, E& e) {
    io.must("action", e.action);
    io.must("finding", e.finding);
    io.must("subject", e.subject);
    io.may("check", e.check);
    io.must("week", e.week);
    io.must("cause", e.cause);
    io.must("cause_words", e.cause_words);
    io.must("remedy", e.remedy);
    io.must("owner", e.owner);
    io.must("due", e.due);
    io.may("follows", e.follows);
    io.may("by", e.by);
}

template <class Io, Like<ActionDone> E>
void list_fields(Io& io, E& e) {
    io.must("action", e.action);
    io.must("on", e.on);
    io.may("words", e.words);
    io.may("by", e.by);
}

template <class Io, Like<EffectChecked> E>
void list_fields(Io& io, E& e) {
    io.must("action", e.action);
    io.must("after_days", e.after_days);
    io.must("before_from", e.before_from);
    io.must("after_from", e.after_from);
    io.must("until", e.until);
    io.must("before_failed", e.before_failed);
    io.must("before_tries", e.before_tries);
    io.must("after_failed", e.after_failed);
    io.must("after_tries", e.after_tries);
    io.may("difference", e.difference);
    io.may("low", e.low);
    io.may("high", e.high);
    io.must("verdict", e.verdict);
    io.may("by", e.by);
}

template <class Io, Like<ActionEnded> E>
void list_fields(Io& io, E& e) {
    io.must("action", e.action);
    io.must("why", e.why);
    io.may("by", e.by);
}

template <class Io, Like<InstrumentDoubted> E>
void list_fields(Io& io, E& e) {
    io.must("instrument", e.instrument);
    io.must("from", e.from);
    io.may("until", e.until);
    io.may("as_found", e.as_found);
    io.must("why", e.why);
    io.may("by", e.by);
}

template <class Io, Like<BatchDoubted> E>
void list_fields(Io& io, E& e) {
    io.must("batch", e.batch);
    io.must("why", e.why);
    io.may("by", e.by);
}

/// The word of each kind. Never changed.
template <class E>
inline constexpr std::string_view kind_word = "";
template <>
inline constexpr std::string_view kind_word<JobOpened> = "job-opened";
template <>
inline constexpr std::string_view kind_word<FactsStated> = "facts-stated";
template <>
inline constexpr std::string_view kind_word<InstrumentRegistered> = "instrument-registered";
template <>
inline constexpr std::string_view kind_word<ReadingTaken> = "reading-taken";
template <>
inline constexpr std::string_view kind_word<FaultCorrected> = "fault-corrected";
template <>
inline constexpr std::string_view kind_word<Rejudged> = "rejudged";
template <>
inline constexpr std::string_view kind_word<Deferred> = "deferred";
template <>
inline constexpr std::string_view kind_word<Conceded> = "conceded";
template <>
inline constexpr std::string_view kind_word<Undone> = "undone";
template <>
inline constexpr std::string_view kind_word<ConflictResolved> = "conflict-resolved";
template <>
inline constexpr std::string_view kind_word<NoteMade> = "note-made";
template <>
inline constexpr std::string_view kind_word<NearMissNoted> = "near-miss-noted";
template <>
inline constexpr std::string_view kind_word<SignedBy> = "signed";
template <>
inline constexpr std::string_view kind_word<HandedOver> = "handed-over";
template <>
inline constexpr std::string_view kind_word<JobReopened> = "job-reopened";
template <>
inline constexpr std::string_view kind_word<Abandoned> = "abandoned";
template <>
inline constexpr std::string_view kind_word<MessageQueued> = "message-queued";
template <>
inline constexpr std::string_view kind_word<MessageTried> = "message-tried";
template <>
inline constexpr std::string_view kind_word<DeviceStarted> = "device-started";
template <>
inline constexpr std::string_view kind_word<DeviceRevoked> = "device-revoked";
template <>
inline constexpr std::string_view kind_word<Received> = "received";
template <>
inline constexpr std::string_view kind_word<ClockJumped> = "clock-jumped";
template <>
inline constexpr std::string_view kind_word<CustomerErased> = "customer-erased";
template <>
inline constexpr std::string_view kind_word<ActionDecided> = "action-decided";
template <>
inline constexpr std::string_view kind_word<ActionDone> = "action-done";
template <>
inline constexpr std::string_view kind_word<EffectChecked> = "effect-checked";
template <>
inline constexpr std::string_view kind_word<ActionEnded> = "action-ended";
template <>
inline constexpr std::string_view kind_word<InstrumentDoubted> = "instrument-doubted";
template <>
inline constexpr std::string_view kind_word<BatchDoubted> = "batch-doubted";
template <>
inline constexpr std::string_view kind_word<JobTakenOver> = "job-taken-over";
template <>
inline constexpr std::string_view kind_word<ComplaintTold> = "complaint-told";
template <>
inline constexpr std::string_view kind_word<ComplaintClosed> = "complaint-closed";
template <>
inline constexpr std::string_view kind_word<TimeSourceChanged> = "time-source-changed";
template <>
inline constexpr std::string_view kind_word<DeviceJudged> = "device-judged";
template <>
inline constexpr std::string_view kind_word<OwnerKept> = "owner-kept";
template <>
inline constexpr std::string_view kind_word<EntriesLost> = "entries-lost";

}  // namespace wm::record
