#include "record/state.hpp"

#include <algorithm>
#include <set>

#include "record/chain.hpp"
#include "record/clock_watch.hpp"

namespace wm::record {
namespace {

using Past = std::map<std::string, std::int64_t>;

/// What the writer of this entry had before its eyes.
Past past_of(const JobState& job, const Entry& entry) {
    const auto seen = job.seen.find(entry.device);
    Past past = seen == job.seen.end() ? Past{} : seen->second;
    past[entry.device] = entry.seq - 1;
    return past;
}

CheckState& touched(JobState& job, const std::string& id) {
    CheckState& check = job.checks[id];
    check.id = id;
    for (SignatureState& signature : job.signatures) signature.stale = true;
    return check;
}

void add_reading(JobState& job, const Origin& origin, const Entry& entry, const ReadingTaken& taken,
                 std::optional<FaultCorrected> correction) {
    CheckState& check = touched(job, taken.check);
    check.readings.push_back({origin,
                              taken,
                              {taken.judged},
                              {},
                              std::move(correction),
                              std::nullopt,
                              past_of(job, entry)});
    derive(check, job.undone);
}

void add_facts(JobState& job, const Origin& origin, const FactsStated& stated) {
    for (const FactStated& fact : stated.facts) {
        FactState& state = job.facts[fact.key];
        state.value = fact.value;
        state.history.emplace_back(origin, fact.value);
    }
}

/// Hashes of entries that do not count. Read backwards, so that an undo that was undone itself does
/// nothing.
void find_undone(JobState& job) {
    job.undone.clear();
    for (auto undo = job.undos.rbegin(); undo != job.undos.rend(); ++undo) {
        if (!job.undone.contains(undo->first.entry)) {
            job.undone.emplace(undo->second.entry, undo->second.by);
        }
    }
}

void add_undo(JobState& job, const Origin& origin, const Undone& undo) {
    job.undos.emplace_back(origin, undo);
    find_undone(job);
    for (auto& [id, check] : job.checks) derive(check, job.undone);
    for (SignatureState& signature : job.signatures) signature.stale = true;
    for (auto& [key, fact] : job.facts) {
        for (const auto& [from, value] : fact.history) {
            if (!job.is_undone(from)) fact.value = value;
        }
    }
}

void add_received(JobState& job, const Entry& entry, const Received& received) {
    Past& seen = job.seen[entry.device];
    for (const Head& head : received.heads) {
        std::int64_t& seq = seen[head.device];
        seq = std::max(seq, head.seq);
    }
}

void reopen(JobState& job, const Origin& origin, const JobReopened& reopened) {
    job.reopenings.emplace_back(origin, reopened);
    if (job.handover) job.earlier_handovers.push_back(std::move(*job.handover));
    job.handover.reset();
    job.signatures.clear();
    job.abandoned.reset();
}

}  // namespace

std::string_view in_words(JobPhase phase) {
    switch (phase) {
        case JobPhase::Open:
            return "open";
        case JobPhase::Signed:
            return "signed";
        case JobPhase::HandedOver:
            return "handed over";
        case JobPhase::Restricted:
            return "restricted";
        case JobPhase::Refused:
            return "refused";
        case JobPhase::Abandoned:
            return "abandoned";
    }
    return "open";
}

JobPhase JobState::phase() const {
    if (handover) {
        return handover->handed.outcome == HandoverKind::Full ? JobPhase::HandedOver
                                                              : JobPhase::Restricted;
    }
    if (abandoned) return JobPhase::Abandoned;
    bool crew = false;
    bool customer = false;
    for (const SignatureState& signature : signatures) {
        if (signature.stale) continue;
        if (signature.by.refused) return JobPhase::Refused;
        (signature.by.role == SignRole::Crew ? crew : customer) = true;
    }
    return crew && customer ? JobPhase::Signed : JobPhase::Open;
}

const CheckState* JobState::check(std::string_view id) const {
    const auto found = checks.find(std::string{id});
    return found == checks.end() ? nullptr : &found->second;
}

std::vector<const ComplaintState*> JobState::standing_complaints() const {
    std::vector<const ComplaintState*> standing;
    for (const ComplaintState& complaint : complaints)
        if (!is_undone(complaint.origin)) standing.push_back(&complaint);
    return standing;
}

const ComplaintClosed* JobState::closing_of(const ComplaintState& complaint) const {
    for (auto closing = complaint.closings.rbegin(); closing != complaint.closings.rend(); ++closing)
        if (!is_undone(closing->first)) return &closing->second;
    return nullptr;
}

std::vector<ClockJumped> JobState::jumps_meanwhile() const {
    std::vector<ClockJumped> jumps;
    for (const auto& [origin, jump] : clock_jumps)
        if (devices.contains(origin.device) && origin.time >= opened_at && origin.time <= last_time)
            jumps.push_back(jump);
    return jumps;
}

const Words* JobState::fact(std::string_view key) const {
    const auto found = facts.find(std::string{key});
    if (found == facts.end()) return nullptr;
    const auto& history = found->second.history;
    const bool counts = std::any_of(history.begin(), history.end(),
                                    [&](const auto& told) { return !is_undone(told.first); });
    return counts ? &found->second.value : nullptr;
}

void fold_in(JobState& job, const Written& written) {
    const Entry& entry = written.entry;
    const Origin origin{written.hash, entry.device, entry.seq, entry.time, job.folded++};
    if (!entry.job.empty()) {
        ++job.entries;
        job.devices.insert(entry.device);
        if (job.timed_by_hand.contains(entry.device)) job.by_hand.insert(written.hash);
        if (job.number.empty()) job.number = entry.job;
        job.last_time = std::max(job.last_time, entry.time);
    }
    std::visit(
        Cases{
            [&](const JobOpened& e) {
                if (job.opened) return;
                job.opened = e;
                job.opened_at = entry.time;
            },
            [&](const FactsStated& e) { add_facts(job, origin, e); },
            [&](const InstrumentRegistered& e) { job.instruments.insert_or_assign(e.id, e); },
            [&](const ReadingTaken& e) { add_reading(job, origin, entry, e, std::nullopt); },
            [&](const FaultCorrected& e) { add_reading(job, origin, entry, e.reading, e); },
            [&](const Rejudged& e) {
                CheckState& check = touched(job, e.check);
                check.rejudgements.emplace_back(origin, e);
                derive(check, job.undone);
            },
            [&](const Deferred& e) {
                CheckState& check = touched(job, e.check);
                check.deferrals.push_back({origin, e});
                derive(check, job.undone);
            },
            [&](const OwnerKept& e) {
                for (auto& [id, check] : job.checks) {
                    const auto put_off = std::find_if(check.deferrals.begin(), check.deferrals.end(),
                                                      [&](const DeferralState& each) { return each.origin.entry == e.entry; });
                    if (put_off == check.deferrals.end()) continue;
                    put_off->deferred.owner = e.owner;
                    derive(check, job.undone);
                }
            },
            [&](const Conceded& e) {
                CheckState& check = touched(job, e.check);
                check.concessions.push_back({origin, e});
                derive(check, job.undone);
            },
            [&](const Undone& e) { add_undo(job, origin, e); },
            [&](const ConflictResolved& e) {
                CheckState& check = touched(job, e.check);
                check.decisions.push_back({origin, e, past_of(job, entry)});
                derive(check, job.undone);
            },
            [&](const NoteMade& e) { job.notes.emplace_back(origin, e); },
            [&](const NearMissNoted& e) { job.near_misses.emplace_back(origin, e); },
            [&](const ComplaintTold& e) { job.complaints.push_back({origin, e, {}}); },
            [&](const ComplaintClosed& e) {
                const auto told = std::find_if(
                    job.complaints.begin(), job.complaints.end(),
                    [&](const ComplaintState& one) { return one.told.complaint == e.complaint; });
                if (told != job.complaints.end()) told->closings.emplace_back(origin, e);
            },
            [&](const SignedBy& e) {
                job.signatures.push_back({origin, e});
            },
            [&](const HandedOver& e) {
                if (job.handover) job.earlier_handovers.push_back(std::move(*job.handover));
                job.handover = HandoverState{origin, e};
            },
            [&](const JobReopened& e) { reopen(job, origin, e); },
            [&](const Abandoned& e) {
                job.abandoned = std::pair{origin, e};
            },
            [&](const MessageQueued& e) {
                job.messages.insert_or_assign(e.message, MessageRecord{origin, e, {}});
            },
            [&](const MessageTried& e) {
                const auto message = job.messages.find(e.message);
                if (message != job.messages.end()) message->second.tries.push_back(e);
            },
            [](const DeviceStarted&) {},
            [](const DeviceRevoked&) {},
            [](const DeviceJudged&) {},
            [](const EntriesLost&) {},
            [&](const Received& e) { add_received(job, entry, e); },
            [&](const JobTakenOver& e) { job.taken_over.emplace_back(origin, e); },
            [&](const ClockJumped& e) { job.clock_jumps.emplace_back(origin, e); },
            [&](const TimeSourceChanged& e) {
                if (time_source_of(e) == TimeSource::Hand) job.timed_by_hand.insert(entry.device);
                else job.timed_by_hand.erase(entry.device);
            },
            [&](const CustomerErased& e) {
                if (job.opened && job.opened->customer == e.customer) job.erased = true;
            },
            // What the office decides belongs to no job; see actions.hpp.
            [](const ActionDecided&) {},
            [](const ActionDone&) {},
            [](const EffectChecked&) {},
            [](const ActionEnded&) {},
            [](const InstrumentDoubted&) {},
            [](const BatchDoubted&) {},
            [&](const Unknown& e) { job.unknown.emplace_back(origin, e); },
        },
        entry.body);
}

JobState after(JobState job, const Written& written) {
    fold_in(job, written);
    return job;
}

JobState folded(std::string_view job, std::span<const Written> entries) {
    std::vector<Written> mine;
    for (const Written& written : entries) {
        if (written.entry.job == job || written.entry.job.empty()) mine.push_back(written);
    }
    JobState state;
    state.number = job;
    for (const Written& written : in_order(std::move(mine))) {
        const bool of_device = written.entry.job.empty();
        if (!of_device || std::holds_alternative<Received>(written.entry.body) ||
            std::holds_alternative<ClockJumped>(written.entry.body) ||
            std::holds_alternative<TimeSourceChanged>(written.entry.body) ||
            std::holds_alternative<CustomerErased>(written.entry.body)) {
            fold_in(state, written);
        }
    }
    return state;
}

}  // namespace wm::record
