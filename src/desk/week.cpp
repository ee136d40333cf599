#include "desk/week.hpp"

#include <fmt/format.h>

#include "audit/causes.hpp"
#include "audit/health.hpp"
#include "audit/season_charts.hpp"
#include "desk/actions.hpp"

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
            .what_to_do = finding.what_to_do,
            .actions = {}};
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

struct ChartSpan {
    std::string first_day, last_day;
    int weeks = 26;
};

void add_charts(WeekView& view, const audit::AuditTable& table, const ChartSpan& span) {
    for (const auto& point : audit::season_points(table, view.week, span.weeks))
        view.trend.push_back({point.week, static_cast<int>(point.tally.failed), static_cast<int>(point.tally.tries),
                              point.tally.share(), point.centre, point.limits.low, point.limits.high, point.signals});
    const auto funnel = audit::crew_funnel(table, span.first_day, span.last_day);
    if (funnel.points.empty()) return;
    view.funnel = FunnelView{.target = funnel.target, .spread = funnel.spread, .points = {}, .limits = {}};
    for (const auto& point : funnel.points)
        view.funnel->points.push_back({point.crew, static_cast<int>(point.tally.failed), static_cast<int>(point.tally.tries),
                                       point.tally.share(), point.outside});
    for (const auto& at : funnel.limits)
        view.funnel->limits.push_back({at.tries, at.inner.low, at.inner.high, at.outer.low, at.outer.high});
}

// Loops that are open are shown in every week until they are closed; a closed one in the week of its finding.
Result<void> add_actions(WeekView& view, Desk& desk) {
    for (const auto& cause : audit::causes()) view.causes.push_back({std::string{cause.word}, std::string{cause.meaning}});
    auto actions = action_views(desk);
    if (!actions) return tl::unexpected(actions.error());
    for (auto& action : *actions) {
        if (!action.is_closed)
            for (auto& finding : view.findings)
                if (finding.kind == action.finding && finding.subject == action.subject && finding.check == action.check)
                    finding.actions.push_back(action.action);
        if (!action.is_closed || action.week == view.week) view.actions.push_back(std::move(action));
    }
    return {};
}

Result<void> add_revisits(WeekView& view, Desk& desk) {
    const auto rows = desk.job_rows();
    if (!rows) return tl::unexpected(rows.error());
    for (auto& sample : view.samples)
        for (const auto& row : *rows)
            if (row.after == sample.job && row.kind == "service") sample.revisit = row.job;
    return {};
}

}  // namespace

audit::CheckCards cards_of(const checklist::Library& library) {
    audit::CheckCards cards;
    for (const auto& list : library.checklists)
        for (const auto& check : list.checks)
            cards.emplace(check.id.text, audit::CheckCard{check.title, checklist::letter_of(check.severity).front(), check.hold});
    return cards;
}

Result<std::shared_ptr<const audit::AuditTable>> Desk::audit_table() {
    const auto jobs = journal_.jobs();
    if (!jobs) return tl::unexpected(jobs.error());
    // The rows hold owners by name, which an erasure takes away.
    if (const auto erasures = journal_.erasures(); erasures != audited_erasures_) {
        audited_jobs_.clear();
        audited_.reset();
        audited_erasures_ = erasures;
    }
    for (const auto& line : *jobs) {
        auto& counted = audited_jobs_[line.job];
        if (counted.last_hash == line.last_hash) continue;
        audited_.reset();
        if (const auto at_hand = states_.find(line.job); at_hand != states_.end() && at_hand->second->last_time == line.last_time) {
            counted = {line.last_hash, audit::audit_table({at_hand->second.get(), 1})};
            continue;
        }
        // Folded and let go: ten thousand folded jobs would fill the memory of a tablet.
        auto entries = journal_.read_job(line.job);
        if (!entries) return tl::unexpected(entries.error());
        const auto state = record::folded(line.job, entries->entries);
        // A damaged job may be mended by a bundle, which leaves its last entry as it was.
        counted = {entries->damaged.empty() ? line.last_hash : "", audit::audit_table({&state, 1})};
        if (!entries->damaged.empty()) damaged_[line.job] = std::move(entries->damaged);
        else damaged_.erase(line.job);
    }
    if (!audited_) {
        auto all = std::make_shared<audit::AuditTable>();
        for (const auto& [job, counted] : audited_jobs_) audit::add_rows(*all, counted.rows);
        audited_ = std::move(all);
    }
    return audited_;
}

Result<std::vector<std::string>> weeks(Desk& desk) {
    const auto table = desk.audit_table();
    if (!table) return tl::unexpected(table.error());
    return audit::weeks_of(**table);
}

Result<WeekView> week_view(Desk& desk, const std::string& week, const audit::WeekSettings& settings) {
    if (!monday_of(week))
        return refused({fmt::format("\"{}\" is no week.", week), "week", "Write it as 2027-W09 (ISO 8601).",
                        ProblemKind::WrongUse});
    const auto counted = desk.audit_table();
    if (!counted) return tl::unexpected(counted.error());
    const audit::AuditTable& table = **counted;
    const auto cards = cards_of(desk.library());
    const auto audited = audit::week_audit(table, cards, week, settings);
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
    for (const auto& row : audited.samples) view.samples.push_back({row.job, row.why, ""});
    view.weeks = audit::weeks_of(table);
    for (const auto& job : table.jobs) view.places.emplace(job.job, job.street);
    const auto last_day = day_after(monday_of(week).value_or(""), 6).value_or("");
    const auto first_day = day_after(last_day, 1 - 7 * settings.weeks_back).value_or("");
    for (const auto& row : audit::health_of(table, cards, {.first_day = first_day, .last_day = last_day}))
        view.health.push_back({row.check, audit::title_of(cards, row.check), row.kind, row.sentence, row.proposal,
                               static_cast<int>(row.tries)});
    add_charts(view, table, {first_day, last_day, settings.weeks_back});
    if (auto done = add_actions(view, desk); !done) return tl::unexpected(done.error());
    if (auto done = add_revisits(view, desk); !done) return tl::unexpected(done.error());
    view.damaged = desk.damaged();
    return view;
}

}  // namespace wm::desk
