// An instrument or a batch turns out not to be trusted: what stood on it is open again.
#include <fmt/format.h>

#include <algorithm>

#include "audit/reverse_trace.hpp"
#include "desk/actions.hpp"
#include "desk/desk.hpp"
#include "desk/judged.hpp"
#include "desk/permission.hpp"
#include "digest/text.hpp"

namespace wm::desk {

namespace {

record::Personal words(const std::string& text) { return {"", digest::composed(text)}; }

std::optional<record::Personal> words_if_any(const std::string& text) {
    return text.empty() ? std::nullopt : std::optional{words(text)};
}

tl::unexpected<Problem> wrong(std::string what, std::string where, std::string how, ProblemKind kind = ProblemKind::WrongUse) {
    return refused({std::move(what), std::move(where), std::move(how), kind});
}

// The reading stays, with all it was judged by; it only proves nothing any more.
record::Judged set_aside(record::Judged judged, const std::string& why) {
    judged.outcome = judged.place_outcome = measure::Outcome::Open;
    judged.why = judged.place_why = why;
    if (judged.whole_outcome) {
        judged.whole_outcome = measure::Outcome::Open;
        judged.whole_why = why;
    }
    judged.probability.clear();
    return judged;
}

}  // namespace

Result<int> Desk::carry_out(const DoubtInstrument& intent) {
    const std::string where = "instrument " + intent.instrument;
    if (!days_between(intent.from, intent.from))
        return wrong(fmt::format("\"{}\" is no date.", intent.from), where, "Write the first day in doubt as 2027-03-18.");
    if (!intent.until.empty() && days_between(intent.from, intent.until).value_or(-1) < 0)
        return wrong(fmt::format("\"{}\" is no day after {}.", intent.until, intent.from), where,
                     "Write the last day in doubt as 2027-03-18, or leave it out.");
    if (intent.why.empty()) return wrong("The reason is missing.", where, "Write --why \"…\".");
    const auto table = audit_columns();
    if (!table) return tl::unexpected(table.error());
    const audit::ReverseIndex index{**table};
    const auto known = index.instruments();
    if (!std::binary_search(known.begin(), known.end(), intent.instrument))
        return wrong("No reading was taken with this instrument.", where, "Check its number, as engraved on it.",
                     ProblemKind::Unreadable);
    const std::string why = fmt::format("The instrument {} was found to read wrongly from {} on; this reading is no evidence.",
                                            intent.instrument, intent.from);
    std::vector<record::Draft> drafts;
    drafts.push_back({"", record::InstrumentDoubted{.instrument = intent.instrument, .from = intent.from, .until = intent.until,
                                                    .as_found = digest::composed(intent.as_found), .why = words(intent.why),
                                                    .by = words_if_any(said_by(setup_, intent.by))}});
    std::vector<std::string> jobs;
    for (const auto row : index.uses_of({intent.instrument, intent.from, intent.until})) {
        const auto job = (*table)->job_of_use(row);
        const auto use = (*table)->use(job, row);
        if (!use.is_evidence) continue;
        const std::string& number = (*table)->card(job).job;
        const auto state = state_of(number);
        // Nothing is written into a record that cannot be read whole; the week names it.
        if (!state || damaged_.contains(number)) continue;
        const auto* check = (*state)->check(use.check);
        const auto* reading = check == nullptr ? nullptr : check->standing_at(use.place);
        if (reading == nullptr) continue;
        drafts.push_back({number, record::Rejudged{.check = use.check, .place = use.place, .reading = reading->origin.entry,
                                                   .judged = set_aside(reading->judged(), why),
                                                   .because = set_aside_because(intent.instrument, intent.from)}});
        jobs.push_back(number);
    }
    if (auto fine = may_say(setup_, drafts); !fine) return tl::unexpected(fine.error());
    const std::string before = journal_.head().hash;
    const auto moved = static_cast<int>(drafts.size()) - 1;
    // One transaction: either all of it is in doubt, or nothing.
    auto written = journal_.append({.wall_ms = setup_.now().wall_ms, .customer = "", .drafts = std::move(drafts)});
    if (!written) return tl::unexpected(written.error());
    for (const auto& job : jobs) {
        forget(job);
        note_written(job, before);
    }
    return moved;
}

Result<void> Desk::carry_out(const DoubtBatch& intent) {
    const std::string where = "batch " + intent.batch;
    if (intent.why.empty()) return wrong("The reason is missing.", where, "Write --why \"…\".");
    const auto table = audit_columns();
    if (!table) return tl::unexpected(table.error());
    if (audit::ReverseIndex{**table}.jobs_with(intent.batch).empty())
        return wrong("No job names this batch.", where, "Check it, as printed on the part.", ProblemKind::Unreadable);
    std::vector<record::Draft> drafts{{"", record::BatchDoubted{.batch = digest::composed(intent.batch), .why = words(intent.why),
                                                               .by = words_if_any(said_by(setup_, intent.by))}}};
    if (auto fine = may_say(setup_, drafts); !fine) return fine;
    auto written = journal_.append({.wall_ms = setup_.now().wall_ms, .customer = "", .drafts = std::move(drafts)});
    if (!written) return tl::unexpected(written.error());
    return {};
}

}  // namespace wm::desk
