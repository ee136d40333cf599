// Decisions of people: deferrals, concessions, undo, conflicts, near misses, leaving.
#include <fmt/format.h>

#include <algorithm>

#include "desk/desk.hpp"
#include "desk/judged.hpp"
#include "desk/owner.hpp"
#include "desk/permission.hpp"
#include "desk/put_off.hpp"
#include "digest/text.hpp"

namespace wm::desk {

namespace {

Result<const checklist::Check*> check_of(const JobInHand& job, const std::string& id) {
    const auto* check = job.list->find(checklist::CheckId{id});
    if (check == nullptr)
        return refused({fmt::format("The checklist \"{}\" has no check \"{}\".", job.list->name, id),
                        "job " + job.state().number,
                        fmt::format("Look for it in the list of the checks (witnessmark job show {}).", job.state().number),
                        ProblemKind::Unreadable});
    return check;
}

Problem empty_words(std::string_view what, std::string_view where, std::string_view how) {
    return {fmt::format("{} is missing.", what), std::string{where}, std::string{how}, ProblemKind::WrongUse};
}

std::string lead_of(const JobInHand& job) { return job.facts().word("crew.lead").value_or("crew"); }

record::Personal words(const std::string& text) { return {"", digest::composed(text)}; }

std::string listed(const std::vector<std::string>& items) {
    std::string text;
    for (const auto& item : items) text += (text.empty() ? "" : "; ") + item;
    return text;
}

}  // namespace

Result<void> Desk::carry_out(const DeferCheck& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    const auto check = check_of(*hand, intent.check);
    if (!check) return tl::unexpected(check.error());
    const std::string where = fmt::format("job {}, check {}", intent.job, intent.check);
    if (const auto open = open_for(*hand, intent.check); !open) return tl::unexpected(open.error());
    if (hand->state().handover) hand->today = day_of(setup_.now());
    if (intent.why.empty()) return refused(empty_words("The reason", where, "Write --why \"…\"."));
    const auto days = days_between(hand->today, intent.until);
    if (!days)
        return refused({fmt::format("\"{}\" is no date.", intent.until), where,
                        "Write it as 2027-03-18.", ProblemKind::Unreadable});
    if ((*check)->defer_reasons.empty())
        return refused({"This check may not be deferred; the system is not handed over without it.", where,
                        "Take the reading, or leave the job open and the set out of use.", ProblemKind::Refused});
    if (*days < 0)
        return refused({fmt::format("{} is in the past.", intent.until), where, "Name a day to come.",
                        ProblemKind::Refused});
    if ((*check)->defer_days && *days > *(*check)->defer_days)
        return refused({fmt::format("{} is {} days away; at most {} are allowed for this check.", intent.until, *days,
                                    *(*check)->defer_days),
                        where, "Name an earlier day.", ProblemKind::Refused});
    auto owner = locked_owner(*this, hand->state(), intent.owner);
    if (!owner) return tl::unexpected(owner.error());
    auto written = append(*hand, {{intent.job, record::Deferred{.check = intent.check,
                                                                .until = intent.until,
                                                                .owner = std::move(*owner),
                                                                .why = words(intent.why),
                                                                .reason = (*check)->defer_reasons.front(),
                                                                .by = author(setup_, lead_of(*hand))}}});
    if (!written) return tl::unexpected(written.error());
    return {};
}

Result<void> Desk::carry_out(const ConcedeCheck& intent) {
    if (auto fine = may(setup_, store::Role::Lead, "give a concession"); !fine) return fine;
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    const auto check = check_of(*hand, intent.check);
    if (!check) return tl::unexpected(check.error());
    const std::string where = fmt::format("job {}, check {}", intent.job, intent.check);
    if (const auto open = open_for(*hand, intent.check); !open) return tl::unexpected(open.error());
    if (hand->state().handover) hand->today = day_of(setup_.now());
    if (intent.by.empty()) return refused(empty_words("The name of the person", where, "Write --by NAME."));
    if (intent.why.empty()) return refused(empty_words("The reason", where, "Write --why \"…\"."));
    if ((*check)->severity == checklist::Severity::Hurts)
        return refused({"A concession is never given for what can hurt someone.", where,
                        "Put it right, or set the system out of use with a label.", ProblemKind::Refused});
    const auto* state = hand->state().check(intent.check);
    if (state == nullptr || state->read_outcome == measure::Outcome::Open ||
        state->read_outcome == measure::Outcome::Conforms)
        return refused({"There is nothing to concede: no reading of this check stands as failed.", where,
                        "Take the reading first.", ProblemKind::Refused});
    if ((*check)->concession_when) {
        for (const auto& input : latest_readings(*hand, **check)) {
            Assessment assessment{*hand};
            const auto judged = judge_place(assessment, **check, input);
            if (judged && judged->judged.band == checklist::Band::Blocking)
                return refused({"The reading is beyond what a concession may cover.", where,
                                "Look for another place or plan, or refuse the job.", ProblemKind::Refused});
        }
    }
    auto written = append(*hand, {{intent.job, record::Conceded{.check = intent.check,
                                                                .by = intent.by,
                                                                .why = words(intent.why)}}});
    if (!written) return tl::unexpected(written.error());
    return {};
}

Result<UndoneView> Desk::carry_out(const UndoLast& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    auto entries = journal_.read_job(intent.job);
    if (!entries) return tl::unexpected(entries.error());
    std::vector<std::string> gone;
    for (const auto& written : entries->entries)
        if (const auto* undone = std::get_if<record::Undone>(&written.entry.body)) gone.push_back(undone->entry);
    const auto of = [&](const char* what, const std::string& check) {
        const auto* found = hand->list->find(checklist::CheckId{check});
        return UndoneView{fmt::format("the {} {}", what, found != nullptr ? found->title : check), check};
    };
    const auto undoable = [&](const record::Written& written) -> UndoneView {
        if (written.entry.job != intent.job || written.entry.device != journal_.device()) return {};
        if (std::find(gone.begin(), gone.end(), written.hash) != gone.end()) return {};
        return std::visit(record::Cases{
                              [&](const record::ReadingTaken& e) { return of("reading of", e.check); },
                              [&](const record::FaultCorrected& e) { return of("correction of", e.reading.check); },
                              [&](const record::Deferred& e) { return of("deferral of", e.check); },
                              [&](const record::Conceded& e) { return of("concession for", e.check); },
                              [&](const record::ConflictResolved& e) { return of("choice between readings of", e.check); },
                              [](const record::ComplaintTold&) { return UndoneView{"the complaint", ""}; },
                              [](const record::ComplaintClosed&) { return UndoneView{"the end of the complaint", ""}; },
                              [](const record::SignedBy&) { return UndoneView{"the signature", ""}; },
                              [](const auto&) { return UndoneView{}; },
                          },
                          written.entry.body);
    };
    for (auto at = entries->entries.rbegin(); at != entries->entries.rend(); ++at) {
        // Nothing behind a report that is out may be taken back.
        if (std::holds_alternative<record::HandedOver>(at->entry.body))
            return refused({"The job is handed over; its report is out.", "job " + intent.job,
                            "Open a revisit or service job after this one.", ProblemKind::Refused});
        const UndoneView what = undoable(*at);
        if (what.words.empty()) continue;
        auto written = append(*hand, {{intent.job, record::Undone{at->hash, author(setup_, lead_of(*hand))}}});
        if (!written) return tl::unexpected(written.error());
        return what;
    }
    return refused({"There is nothing to undo.", "job " + intent.job, "Enter a reading first.", ProblemKind::Refused});
}

Result<void> Desk::carry_out(const ResolveConflict& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    const auto* state = hand->state().check(intent.check);
    const record::Conflict* conflict = nullptr;
    if (state != nullptr)
        for (const auto& c : state->conflicts)
            if (intent.place.empty() || c.place == intent.place) conflict = &c;
    const std::string where = fmt::format("job {}, check {}", intent.job, intent.check);
    if (conflict == nullptr)
        return refused({"No two readings stand against each other here.", where, "Nothing needs to be decided.",
                        ProblemKind::Refused});
    for (const auto& hash : conflict->readings) {
        if (intent.keep.size() < 8 || !hash.starts_with(intent.keep)) continue;
        auto written = append(*hand, {{intent.job, record::ConflictResolved{.check = intent.check,
                                                                            .place = conflict->place,
                                                                            .keep = hash,
                                                                            .by = author(setup_, lead_of(*hand))}}});
        if (!written) return tl::unexpected(written.error());
        return {};
    }
    return refused({fmt::format("\"{}\" is none of the readings in conflict.", intent.keep), where,
                    "Give the first eight or more letters of one of them: " + listed(conflict->readings),
                    ProblemKind::Unreadable});
}

Result<void> Desk::carry_out(const NoteNearMiss& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    if (intent.what.empty()) return refused(empty_words("What happened", "job " + intent.job, "Write it in a sentence."));
    auto written = append(*hand, {{intent.job, record::NearMissNoted{.what = words(intent.what),
                                                                     .check = "",
                                                                     .by = author(setup_, lead_of(*hand))}}});
    if (!written) return tl::unexpected(written.error());
    return {};
}

Result<void> Desk::carry_out(const AbandonJob& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    if (intent.why.empty() || intent.left_safe.empty())
        return refused(empty_words("Why the crew leaves, or how the site was left safe", "job " + intent.job,
                                   "Say both: what is shut, drained or locked off, and why the work stops."));
    if (hand->state().handover)
        return refused({"The job is handed over; nobody can leave it now.", "job " + intent.job,
                        "Open a revisit or service job after this one.", ProblemKind::Refused});
    // Both are free words and may name a person, so both are kept locked.
    auto written = append(*hand, {{intent.job, record::Abandoned{.left_safe = true,
                                                                 .why = words(intent.why + " Left safe: " + intent.left_safe),
                                                                 .isolated = {},
                                                                 .by = author(setup_, lead_of(*hand))}}});
    if (!written) return tl::unexpected(written.error());
    return {};
}

}  // namespace wm::desk
