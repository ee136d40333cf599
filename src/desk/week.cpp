#include "desk/week.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <set>

#include "audit/aimed_rules.hpp"
#include "audit/causes.hpp"
#include "audit/health.hpp"
#include "audit/other_jobs.hpp"
#include "audit/season_charts.hpp"
#include "desk/actions.hpp"
#include "desk/complaints.hpp"
#include "desk/lost_entries.hpp"

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

struct ChartSpan {
    std::string first_day, last_day;
    int weeks = 26;
};

FindingView finding_view(const audit::Finding& finding, const audit::Columns& columns, const ChartSpan& span) {
    FindingView view{.kind = finding.kind,
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
            .actions = {},
            .compared_with = std::string{audit::compared_with(finding.kind)},
            .others_jobs = audit::other_jobs(columns, finding, span.first_day, span.last_day)};
    // Readings since a drift began are no share of anything that failed.
    if (finding.kind == "instrument drift") return view;
    if (const auto own = audit::wilson(finding.own)) {
        view.low = own->low;
        view.high = own->high;
    }
    if (const auto others = audit::wilson(finding.others)) {
        view.others_low = others->low;
        view.others_high = others->high;
    }
    return view;
}

AgeingView ageing_view(const audit::AgeingRow& row) {
    const auto forgotten = audit::wilson({row.forgotten, row.put_off}).value_or(audit::Interval{});
    return {.crew = row.crew,
            .put_off = static_cast<int>(row.put_off),
            .open = static_cast<int>(row.open),
            .forgotten = static_cast<int>(row.forgotten),
            .oldest_days = row.oldest_days,
            .median_days = row.median_days,
            .jobs = row.jobs,
            .low = forgotten.low,
            .high = forgotten.high};
}

GaugeView gauge_view(const audit::GaugeRow& row) {
    std::set<std::string> jobs;
    for (const auto& point : row.points) jobs.insert(point.job);
    GaugeView view{.instrument = row.instrument, .readings = row.readings, .recent_kpa = row.recent_kpa, .highest = row.highest,
                   .signal_since = row.signal_since, .p = row.p, .scatter_kpa = row.scatter_kpa, .points = {}, .low_kpa = row.recent.low,
                   .high_kpa = row.recent.high, .jobs = {jobs.begin(), jobs.end()}};
    for (const auto& point : row.points) view.points.push_back({point.day, point.difference_kpa, point.sum, point.beyond, point.job});
    return view;
}

std::vector<std::string> numbers_of(const audit::Columns& columns, const std::vector<std::size_t>& jobs) {
    std::vector<std::string> numbers;
    numbers.reserve(jobs.size());
    for (const auto job : jobs) numbers.push_back(columns.card(job).job);
    return numbers;
}

void add_charts(WeekView& view, const audit::Columns& columns, const ChartSpan& span) {
    for (const auto& point : audit::season_points(columns, view.week, span.weeks))
        view.trend.push_back({point.week, static_cast<int>(point.tally.failed), static_cast<int>(point.tally.tries),
                              point.tally.share(), point.centre, point.limits.low, point.limits.high, point.signals, numbers_of(columns, point.jobs)});
    const auto funnel = audit::crew_funnel(columns, span.first_day, span.last_day);
    if (funnel.points.empty()) return;
    view.funnel = FunnelView{.target = funnel.target, .spread = funnel.spread, .points = {}, .limits = {}};
    for (const auto& point : funnel.points) {
        const auto interval = audit::wilson(point.tally).value_or(audit::Interval{});
        view.funnel->points.push_back({point.crew, static_cast<int>(point.tally.failed), static_cast<int>(point.tally.tries),
                                       point.tally.share(), point.outside, numbers_of(columns, point.jobs), interval.low, interval.high});
    }
    for (const auto& at : funnel.limits)
        view.funnel->limits.push_back({at.tries, at.inner.low, at.inner.high, at.outer.low, at.outer.high});
}

// Loops that are open are shown in every week until they are closed; a closed one in the week of its finding.
void add_actions(WeekView& view, const WeekRecord& record, const audit::CheckCards& cards, const Moment& now) {
    for (const auto& cause : audit::causes()) view.causes.push_back({std::string{cause.word}, std::string{cause.meaning}});
    for (auto& action : action_views(record::office_of(record.stream), record.columns, cards, day_of(now), now.zone_minutes)) {
        if (!action.is_closed)
            for (auto& finding : view.findings)
                if (finding.kind == action.finding && finding.subject == action.subject && finding.check == action.check)
                    finding.actions.push_back(action.action);
        if (!action.is_closed || action.week == view.week) view.actions.push_back(std::move(action));
    }
}

/// Streets of the jobs that are named, of half a million jobs not of all.
void add_place(WeekView& view, const audit::Columns& columns, const std::string& job) {
    if (const auto at = columns.job_named(job)) view.places.emplace(job, columns.card(*at).street);
}

void add_places(WeekView& view, const audit::Columns& columns) {
    const auto name = [&](const std::string& job) { add_place(view, columns, job); };
    const auto name_all = [&](const auto& rows) {
        for (const auto& row : rows)
            for (const auto& job : row.jobs) name(job);
    };
    const auto name_each = [&](const auto& rows) {
        for (const auto& row : rows) name(row.job);
    };
    for (const auto& job : view.looked_at) name(job);
    for (const auto* shares : {&view.failed, &view.by_crew, &view.by_batch}) name_all(*shares);
    name_each(view.severe);
    name_each(view.open);
    name_each(view.samples);
    name_each(view.complaints);
    for (const auto& row : view.complaints)
        for (const auto& other : {row.survey, row.commissioning}) name(other);
    name_all(view.findings);
    name_all(view.questions);
    name_all(view.ageing);
    name_all(view.health);
    name_all(view.trend);
    if (view.funnel) name_all(view.funnel->points);
}

void add_revisits(WeekView& view, const WeekRecord& record) {
    std::map<std::string_view, SampleView*> wanted;
    for (auto& sample : view.samples) wanted.emplace(sample.job, &sample);
    for (const auto& [after, job] : record.visits)
        if (const auto sample = wanted.find(after); sample != wanted.end()) sample->second->revisit = job;
}

void add_complaints(WeekView& view, const audit::Week& audited, const audit::Columns& columns, const audit::CheckCards& cards,
                    const checklist::FailureList& list, const std::string& last_day) {
    for (const auto& trace : audited.complaints) {
        const auto& row = columns.rest().complaints[trace.row];
        const auto* symptom = list.symptom(row.symptom);
        const bool open = row.closed.empty() || row.closed > last_day;
        WeekComplaintView shown{.job = columns.card(row.job).job, .complaint = row.complaint, .symptom = row.symptom,
                                .symptom_words = symptom ? symptom->words : row.symptom, .told_on = row.day, .air = row.air, .survey = trace.survey,
                                .commissioning = trace.commissioning, .is_open = open,
                                .age_days = std::max(0, days_between(row.day, open ? last_day : row.closed).value_or(0)), .unproved = {}};
        for (const auto& gap : trace.unproved)
            shown.unproved.push_back({trace.commissioning, gap.check, "", gap.what, 0, audit::title_of(cards, gap.check)});
        view.complaints.push_back(std::move(shown));
    }
}

WeekFilterView filter_view(const audit::WeekSettings& settings) {
    const auto& f = settings.filter;
    return {.crew = f.crew, .check = f.check, .roof = f.roof, .kind = f.kind, .batch = f.batch, .instrument = f.instrument,
            .street = f.street, .weeks = settings.weeks};
}

WeekChoicesView choices_view(const audit::FilterChoices& choices, const audit::CheckCards& cards) {
    const auto plain = [](const std::vector<std::string>& names) {
        std::vector<WeekChoiceView> all;
        for (const auto& name : names) all.push_back({name, name});
        return all;
    };
    WeekChoicesView view{.crews = plain(choices.crews), .checks = {}, .roofs = plain(choices.roofs), .kinds = plain(choices.kinds),
                         .batches = plain(choices.batches), .instruments = plain(choices.instruments), .streets = plain(choices.streets)};
    for (const auto& check : choices.checks) view.checks.push_back({check, audit::title_of(cards, check)});
    std::stable_sort(view.checks.begin(), view.checks.end(), [](const WeekChoiceView& a, const WeekChoiceView& b) { return a.words < b.words; });
    return view;
}

}  // namespace

audit::SymptomLinks links_of(const checklist::FailureList& list) {
    audit::SymptomLinks links;
    for (const auto& failure : list.failures)
        for (const auto& symptom : failure.symptoms)
            for (const auto& check : failure.checks) links.push_back({symptom, check, failure.weather == checklist::Weather::Frost});
    return links;
}

audit::WeekSettings settings_for(const WeekFilterView& filter) {
    audit::WeekSettings settings;
    settings.weeks = std::max(1, filter.weeks);
    settings.filter = {.crew = filter.crew, .check = filter.check, .roof = filter.roof, .kind = filter.kind, .batch = filter.batch,
                       .instrument = filter.instrument, .street = filter.street};
    return settings;
}

std::string in_words(const WeekFilterView& filter, const audit::CheckCards& cards) {
    std::vector<std::string> parts;
    for (const auto& [what, name] : {std::pair{"crew", &filter.crew}, std::pair{"roof", &filter.roof}, std::pair{"kind", &filter.kind},
                                     std::pair{"batch", &filter.batch}, std::pair{"instrument", &filter.instrument}, std::pair{"street", &filter.street}})
        if (!name->empty()) parts.push_back(fmt::format("{} {}", what, *name));
    if (!filter.check.empty()) parts.push_back(fmt::format("\"{}\"", audit::title_of(cards, filter.check)));
    if (filter.weeks > 1) parts.push_back(fmt::format("{} weeks", filter.weeks));
    return fmt::format("{}", fmt::join(parts, ", "));
}

audit::CheckCards cards_of(const checklist::Library& library) {
    audit::CheckCards cards;
    for (const auto& list : library.checklists)
        for (const auto& check : list.checks)
            cards.emplace(check.id.text, audit::CheckCard{check.title, checklist::letter_of(check.severity).front(), check.hold, check.stage});
    return cards;
}

Result<std::vector<std::string>> weeks(Desk& desk) {
    const auto columns = desk.audit_columns();
    if (!columns) return tl::unexpected(columns.error());
    return audit::weeks_of(**columns);
}

WeekView counted_week(const audit::Columns& columns, const audit::CheckCards& cards, const checklist::FailureList& failures, const std::string& week,
                      const audit::WeekSettings& asked) {
    auto settings = asked;
    settings.links = links_of(failures);
    const auto audited = audit::week_audit(columns, cards, week, settings);
    WeekView view;
    view.filter = filter_view(settings);
    view.choices = choices_view(audit::choices_of(columns), cards);
    view.week = week;
    view.jobs = audited.jobs;
    view.results = audited.results;
    view.inconclusive = audited.inconclusive;
    view.looked_at = audited.looked_at;
    for (const auto& row : audited.by_check) view.failed.push_back(share_view(row, cards));
    for (const auto& row : audited.by_crew) view.by_crew.push_back(share_view(row, cards));
    for (const auto& row : audited.by_batch) view.by_batch.push_back(share_view(row, cards));
    for (const auto& row : audited.severe)
        view.severe.push_back({row.job, row.check, row.outcome, row.corrected, audit::title_of(cards, row.check)});
    for (const auto& row : audited.open)
        view.open.push_back({row.job, row.check, row.owner, row.what, row.age_days, audit::title_of(cards, row.check)});
    const auto last_day = day_after(monday_of(week).value_or(""), 6).value_or("");
    const ChartSpan span{day_after(last_day, 1 - 7 * settings.weeks_back).value_or(""), last_day, settings.weeks_back};
    for (const auto& row : audited.findings) view.findings.push_back(finding_view(row, columns, span));
    for (const auto& row : audited.questions)
        view.questions.push_back({row.kind, row.subject, row.check, row.sentence, row.what_to_do, row.jobs});
    add_complaints(view, audited, columns, cards, failures, last_day);
    for (const auto& row : audited.ageing) view.ageing.push_back(ageing_view(row));
    for (const auto& row : audited.gauges) view.gauges.push_back(gauge_view(row));
    for (const auto& row : audited.samples) view.samples.push_back({row.job, row.why, "", row.narrows});
    view.finished = audited.finished;
    view.seed = audited.seed;
    for (const auto& rule : audit::rules_left_out()) view.rules_left_out.push_back({std::string{rule.failure}, std::string{rule.rule}, std::string{rule.because}});
    view.weeks = audit::weeks_of(columns);
    const auto part = settings.filter.is_empty() ? audit::Columns{} : audit::filtered(columns, settings.filter);
    const auto& looked_at = settings.filter.is_empty() ? columns : part;
    for (const auto& row : audit::health_of(looked_at, cards, {.first_day = span.first_day, .last_day = span.last_day}))
        view.health.push_back({row.check, audit::title_of(cards, row.check), row.kind, row.sentence, row.proposal,
                               static_cast<int>(row.tries), numbers_of(looked_at, row.jobs)});
    add_charts(view, looked_at, span);
    add_places(view, columns);
    return view;
}

Result<WeekDays> days_of_week(const std::string& week) {
    const auto monday = monday_of(week);
    if (!monday)
        return refused({fmt::format("\"{}\" is no week.", week), "week", "Write it as 2027-W09 (ISO 8601).",
                        ProblemKind::WrongUse});
    return WeekDays{*monday, day_after(*monday, 6).value_or("")};
}

void add_visit(WeekRecord& record, const JobRow& row) {
    if (!row.after.empty() && row.kind == "service") record.visits.emplace_back(row.after, row.job);
}

Result<WeekView> week_of_record(const WeekRecord& record, const WeekReader& reader, const std::string& week, const audit::WeekSettings& asked) {
    const auto days = days_of_week(week);
    if (!days) return tl::unexpected(days.error());
    if (const auto unknown = audit::unknown_in(record.columns, asked.filter); !unknown.empty())
        return refused({fmt::format("No job has the {}.", unknown), "week", "Write it as the week lists it, letter by letter.", ProblemKind::WrongUse});
    const auto cards = cards_of(reader.library);
    auto view = counted_week(record.columns, cards, reader.failures, week, asked);
    const auto clocks = clock_questions(record.stream, record.lines, days->first, days->last);
    if (!clocks) return tl::unexpected(clocks.error());
    const auto strangers = device_questions(record.devices, record.work);
    if (!strangers) return tl::unexpected(strangers.error());
    const auto losses = loss_questions(record.stream, record.heads, days->first, days->last);
    for (const auto* asked_of_people : {&*clocks, &*strangers, &losses}) {
        for (const auto& question : *asked_of_people) {
            for (const auto& job : question.jobs) add_place(view, record.columns, job);
            view.questions.push_back(question);
        }
    }
    add_actions(view, record, cards, reader.now);
    add_revisits(view, record);
    view.damaged = record.damaged;
    return view;
}

Result<WeekView> week_view(Desk& desk, const std::string& week, const audit::WeekSettings& asked) {
    const auto days = days_of_week(week);
    if (!days) return tl::unexpected(days.error());
    const auto counted = desk.audit_columns();
    if (!counted) return tl::unexpected(counted.error());
    auto stream = desk.journal().read_stream();
    if (!stream) return tl::unexpected(stream.error());
    auto heads = desk.journal().heads();
    if (!heads) return tl::unexpected(heads.error());
    WeekRecord record{.columns = **counted,
                      .stream = std::move(stream->entries),
                      .heads = std::move(*heads),
                      .lines = [&] { return desk.journal().jobs(); },
                      .devices = {},
                      .work = [&](const std::string& device) { return work_of(desk.journal(), device, days->first, days->last); },
                      .visits = {},
                      .damaged = {}};
    record.devices = devices_of(record.stream, record.heads, looking_from(desk.journal()));
    const auto rows = desk.job_rows();
    if (!rows) return tl::unexpected(rows.error());
    for (const auto& row : *rows) add_visit(record, row);
    record.damaged = desk.damaged();
    // A folder of checklists of an earlier version has no catalogue; its complaints lead nowhere then.
    return week_of_record(record, {desk.library(), failure_list(desk).value_or(checklist::FailureList{}), desk.setup().now()}, week, asked);
}

}  // namespace wm::desk
