#include "desk/week.hpp"

#include <fmt/format.h>

namespace wm::desk {

namespace {

std::string words_of(const audit::ShareRow& row, const audit::CheckCards& cards) {
    if (row.check.empty()) return row.subject;
    const auto title = audit::title_of(cards, row.check);
    return row.subject.empty() ? title : row.subject + ": " + title;
}

ShareView share_view(const audit::ShareRow& row, const audit::CheckCards& cards) {
    return {.name = row.subject.empty() ? row.check : row.subject,
            .check = row.check,
            .failed = static_cast<int>(row.tally.failed),
            .tries = static_cast<int>(row.tally.tries),
            .share = row.tally.tries > 0 ? row.tally.share() : 0.0,
            .low = row.interval.low,
            .high = row.interval.high,
            .jobs = row.jobs,
            .inconclusive = static_cast<int>(row.inconclusive),
            .words = words_of(row, cards)};
}

FindingView finding_view(const audit::Finding& finding) {
    return {.kind = finding.kind,
            .subject = finding.subject,
            .check = finding.check,
            .sentence = finding.sentence,
            .p = finding.p,
            .q = finding.q,
            .failed = static_cast<int>(finding.own.failed),
            .tries = static_cast<int>(finding.own.tries),
            .others_failed = static_cast<int>(finding.others.failed),
            .others_tries = static_cast<int>(finding.others.tries),
            .jobs = finding.jobs,
            .what_to_do = finding.what_to_do};
}

AgeingView ageing_view(const audit::AgeingRow& row) {
    return {.crew = row.crew,
            .put_off = static_cast<int>(row.put_off),
            .open = static_cast<int>(row.open),
            .forgotten = static_cast<int>(row.forgotten),
            .oldest_days = row.oldest_days,
            .median_days = row.median_days,
            .jobs = row.jobs};
}

}  // namespace

audit::CheckCards cards_of(const checklist::Library& library) {
    audit::CheckCards cards;
    for (const auto& list : library.checklists)
        for (const auto& check : list.checks)
            cards.emplace(check.id.text, audit::CheckCard{check.title, checklist::letter_of(check.severity).front(), check.hold});
    return cards;
}

Result<audit::AuditTable> table_of(Desk& desk) {
    const auto states = desk.all_states();
    if (!states) return tl::unexpected(states.error());
    return audit::audit_table(*states);
}

Result<std::vector<std::string>> weeks(Desk& desk) {
    const auto table = table_of(desk);
    if (!table) return tl::unexpected(table.error());
    return audit::weeks_of(*table);
}

Result<WeekView> week_view(Desk& desk, const std::string& week, const audit::WeekSettings& settings) {
    if (!monday_of(week))
        return refused({fmt::format("\"{}\" is no week.", week), "week", "Write it as 2027-W09 (ISO 8601).",
                        ProblemKind::WrongUse});
    const auto table = table_of(desk);
    if (!table) return tl::unexpected(table.error());
    const auto cards = cards_of(desk.library());
    const auto audited = audit::week_audit(*table, cards, week, settings);
    WeekView view;
    view.week = week;
    view.jobs = audited.jobs;
    view.results = audited.results;
    view.inconclusive = audited.inconclusive;
    for (const auto& row : audited.by_check) view.failed.push_back(share_view(row, cards));
    for (const auto& row : audited.by_crew) view.by_crew.push_back(share_view(row, cards));
    for (const auto& row : audited.by_batch) view.by_batch.push_back(share_view(row, cards));
    for (const auto& row : audited.severe)
        view.severe.push_back({row.job, row.check, row.outcome, row.corrected, audit::title_of(cards, row.check)});
    for (const auto& row : audited.open)
        view.open.push_back({row.job, row.check, row.owner, row.what, row.age_days, audit::title_of(cards, row.check)});
    for (const auto& row : audited.findings) view.findings.push_back(finding_view(row));
    for (const auto& row : audited.questions)
        view.questions.push_back({row.kind, row.subject, row.check, row.sentence, row.what_to_do, row.jobs});
    for (const auto& row : audited.ageing) view.ageing.push_back(ageing_view(row));
    for (const auto& row : audited.gauges)
        view.gauges.push_back({row.instrument, row.readings, row.recent_kpa, row.highest, row.signal_since, row.p});
    for (const auto& row : audited.samples) view.samples.push_back({row.job, row.why});
    view.weeks = audit::weeks_of(*table);
    for (const auto& job : table->jobs) view.places.emplace(job.job, job.street);
    view.damaged = desk.damaged();
    return view;
}

}  // namespace wm::desk
