#include "audit/columns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <numeric>

namespace wm::audit {

namespace {

// Where each job's rows stand when the rows of a table are taken job by job.
template <class Row>
std::vector<std::size_t> by_job(const std::vector<Row>& rows, std::size_t jobs, std::vector<std::size_t>& first) {
    first.assign(jobs + 1, 0);
    for (const auto& row : rows) ++first[row.job + 1];
    std::partial_sum(first.begin(), first.end(), first.begin());
    std::vector<std::size_t> next(first.begin(), first.end() - 1);
    std::vector<std::size_t> order(rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) order[next[rows[i].job]++] = i;
    return order;
}

template <class T>
void replace(std::vector<T>& into, std::size_t at, std::size_t count, std::vector<T>&& fresh) {
    const auto from = into.begin() + static_cast<std::ptrdiff_t>(at);
    const std::size_t both = std::min(count, fresh.size());
    std::move(fresh.begin(), fresh.begin() + static_cast<std::ptrdiff_t>(both), from);
    const auto rest = from + static_cast<std::ptrdiff_t>(both);
    if (count > both) into.erase(rest, rest + static_cast<std::ptrdiff_t>(count - both));
    else into.insert(rest, std::make_move_iterator(fresh.begin() + static_cast<std::ptrdiff_t>(both)), std::make_move_iterator(fresh.end()));
}

// Rows of the few tables stand by job too.
template <class Row>
void replace_rows(std::vector<Row>& into, std::size_t job, std::size_t jobs_before, std::size_t jobs_now, std::vector<Row>&& fresh) {
    const auto below = [](const Row& row, std::size_t number) { return row.job < number; };
    const auto from = std::lower_bound(into.begin(), into.end(), job, below);
    const auto until = std::lower_bound(from, into.end(), job + jobs_before, below);
    if (jobs_before != jobs_now)
        for (auto row = until; row != into.end(); ++row) row->job = row->job + jobs_now - jobs_before;
    for (auto& row : fresh) row.job += job;
    replace(into, static_cast<std::size_t>(from - into.begin()), static_cast<std::size_t>(until - from), std::move(fresh));
}

void replace_starts(std::vector<std::size_t>& starts, std::size_t job, std::size_t jobs_before, const std::vector<std::size_t>& fresh) {
    const std::size_t base = starts[job];
    const std::size_t count_before = starts[job + jobs_before] - base;
    std::vector<std::size_t> own;
    for (std::size_t i = 1; i < fresh.size(); ++i) own.push_back(base + fresh[i]);
    const std::size_t count_now = fresh.back();
    for (std::size_t i = job + jobs_before + 1; i < starts.size(); ++i) starts[i] = starts[i] + count_now - count_before;
    replace(starts, job + 1, jobs_before, std::move(own));
}

std::size_t rows_between(const std::vector<std::size_t>& starts, std::size_t job, std::size_t jobs) {
    return starts[job + jobs] - starts[job];
}

}  // namespace

/// The rows of some jobs as numbers, before they have their place.
struct Columns::Fresh {
    ResultColumns results;
    UseColumns uses;
    std::vector<std::size_t> first_result, first_use;
    std::vector<JobCodes> codes;
    std::vector<std::vector<std::pair<Code, Code>>> batches;
    AuditTable rest;
};

Day day_code(std::string_view day) {
    if (day.size() != 10 || day[4] != '-' || day[7] != '-') return 0;
    Day code = 0;
    for (const std::size_t at : {0U, 1U, 2U, 3U, 5U, 6U, 8U, 9U}) {
        if (day[at] < '0' || day[at] > '9') return 0;
        code = code * 10 + static_cast<Day>(day[at] - '0');
    }
    return code;
}

std::string day_text(Day day) {
    return day == 0 ? std::string{} : fmt::format("{:04}-{:02}-{:02}", day / 10000, day / 100 % 100, day % 100);
}

bool stand_by_number(const std::vector<JobCard>& jobs) {
    return std::is_sorted(jobs.begin(), jobs.end(), [](const JobCard& a, const JobCard& b) { return a.job < b.job; });
}

Columns::Fresh Columns::coded(const AuditTable& table) {
    Fresh fresh;
    const std::size_t jobs = table.jobs.size();
    fresh.codes.reserve(jobs);
    for (const auto& job : table.jobs) {
        fresh.codes.push_back({.crew = names_.crew.of(job.crew), .street = names_.street.of(job.street), .roof = names_.roof.of(job.roof),
                               .system = names_.system.of(job.system), .kind = names_.kind.of(job.kind), .week = names_.week.of(job.week),
                               .vulnerable = job.vulnerable, .day = day_code(job.day)});
        auto& batches = fresh.batches.emplace_back();
        for (const auto& [material, batch] : job.batches) batches.emplace_back(names_.material.of(material), names_.batch.of(batch));
    }
    for (const auto at : by_job(table.results, jobs, fresh.first_result)) {
        const auto& row = table.results[at];
        fresh.results.check.push_back(names_.check.of(row.check));
        fresh.results.marks.push_back(static_cast<std::uint8_t>((row.failed ? ResultColumns::failed : 0) |
                                                                (row.inconclusive ? ResultColumns::inconclusive : 0) |
                                                                (row.corrected ? ResultColumns::corrected : 0)));
        fresh.results.outcome.push_back(names_.outcome.of(row.outcome));
        const Day day = day_code(row.day);
        fresh.results.day.push_back(day);
        fresh.results.seconds.push_back(static_cast<std::uint32_t>(std::max(0, row.seconds)));
        auto& job = fresh.codes[row.job];
        job.first_day = job.first_day == 0 ? day : std::min(job.first_day, day);
        job.last_day = std::max(job.last_day, day);
        job.failed += row.failed ? 1 : 0;
    }
    for (const auto at : by_job(table.uses, jobs, fresh.first_use)) {
        const auto& row = table.uses[at];
        fresh.uses.check.push_back(names_.check.of(row.check));
        fresh.uses.place.push_back(names_.place.of(row.place));
        fresh.uses.instrument.push_back(names_.instrument.of(row.instrument));
        fresh.uses.text.push_back(names_.text.of(row.text));
        fresh.uses.day.push_back(day_code(row.day));
        fresh.uses.calibrated.push_back(day_code(row.calibrated));
        fresh.uses.evidence.push_back(row.is_evidence ? 1 : 0);
    }
    std::vector<std::size_t> unused;
    fresh.rest.jobs = table.jobs;
    const auto take = [&](const auto& from, auto& into) {
        for (const auto at : by_job(from, jobs, unused)) into.push_back(from[at]);
    };
    take(table.open, fresh.rest.open);
    take(table.deferrals, fresh.rest.deferrals);
    take(table.gauges, fresh.rest.gauges);
    take(table.traces, fresh.rest.traces);
    take(table.complaints, fresh.rest.complaints);
    return fresh;
}

void Columns::splice(std::size_t job, std::size_t before, Fresh fresh) {
    const std::size_t now = fresh.codes.size();
    const std::size_t result = first_result_[job];
    const std::size_t results = rows_between(first_result_, job, before);
    replace(results_.check, result, results, std::move(fresh.results.check));
    replace(results_.marks, result, results, std::move(fresh.results.marks));
    replace(results_.outcome, result, results, std::move(fresh.results.outcome));
    replace(results_.day, result, results, std::move(fresh.results.day));
    replace(results_.seconds, result, results, std::move(fresh.results.seconds));
    const std::size_t use = first_use_[job];
    const std::size_t uses = rows_between(first_use_, job, before);
    replace(uses_.check, use, uses, std::move(fresh.uses.check));
    replace(uses_.place, use, uses, std::move(fresh.uses.place));
    replace(uses_.instrument, use, uses, std::move(fresh.uses.instrument));
    replace(uses_.text, use, uses, std::move(fresh.uses.text));
    replace(uses_.day, use, uses, std::move(fresh.uses.day));
    replace(uses_.calibrated, use, uses, std::move(fresh.uses.calibrated));
    replace(uses_.evidence, use, uses, std::move(fresh.uses.evidence));
    replace_starts(first_result_, job, before, fresh.first_result);
    replace_starts(first_use_, job, before, fresh.first_use);
    replace(codes_, job, before, std::move(fresh.codes));
    replace(batches_, job, before, std::move(fresh.batches));
    replace_rows(rest_.open, job, before, now, std::move(fresh.rest.open));
    replace_rows(rest_.deferrals, job, before, now, std::move(fresh.rest.deferrals));
    replace_rows(rest_.gauges, job, before, now, std::move(fresh.rest.gauges));
    replace_rows(rest_.traces, job, before, now, std::move(fresh.rest.traces));
    replace_rows(rest_.complaints, job, before, now, std::move(fresh.rest.complaints));
    replace(rest_.jobs, job, before, std::move(fresh.rest.jobs));
}

Columns::Columns(const AuditTable& table) {
    splice(0, 0, coded(table));
    by_number_ = stand_by_number(rest_.jobs);
}

std::optional<std::size_t> Columns::job_named(std::string_view number) const {
    const auto& jobs = rest_.jobs;
    const auto at = by_number_ ? std::lower_bound(jobs.begin(), jobs.end(), number, [](const JobCard& card, std::string_view wanted) { return card.job < wanted; })
                               : std::find_if(jobs.begin(), jobs.end(), [&](const JobCard& card) { return card.job == number; });
    if (at == jobs.end() || at->job != number) return std::nullopt;
    return static_cast<std::size_t>(at - jobs.begin());
}

void Columns::put(const AuditTable& of_one_job) {
    if (of_one_job.jobs.empty()) return;
    const std::string& number = of_one_job.jobs.front().job;
    const auto at = std::lower_bound(rest_.jobs.begin(), rest_.jobs.end(), number,
                                     [](const JobCard& card, const std::string& wanted) { return card.job < wanted; });
    const std::size_t there = at != rest_.jobs.end() && at->job == number ? 1 : 0;
    splice(static_cast<std::size_t>(at - rest_.jobs.begin()), there, coded(of_one_job));
}

void Columns::remove(std::string_view number) {
    const auto at = std::lower_bound(rest_.jobs.begin(), rest_.jobs.end(), number,
                                     [](const JobCard& card, std::string_view wanted) { return card.job < wanted; });
    if (at == rest_.jobs.end() || at->job != number) return;
    splice(static_cast<std::size_t>(at - rest_.jobs.begin()), 1, coded({}));
}

std::vector<bool> Columns::waiting_unread(const std::function<bool(std::size_t, const std::string&)>& keeps_check) const {
    std::vector<bool> waits(job_count());
    const auto mark = [&](std::size_t job, const std::string& check) {
        if (first_result_[job] == first_result_[job + 1] && keeps_check(job, check)) waits[job] = true;
    };
    for (const auto& row : rest_.deferrals) mark(row.job, row.check);
    // A complaint is about no single check.
    for (const auto& row : rest_.complaints) mark(row.job, "");
    return waits;
}

Columns Columns::only(const std::function<bool(std::size_t)>& keeps_job, const std::function<bool(std::size_t, std::size_t)>& keeps_result,
                      const std::function<bool(std::size_t, std::size_t)>& keeps_use,
                      const std::function<bool(std::size_t, const std::string&)>& keeps_check) const {
    Columns part;
    part.names_ = names_;
    part.by_number_ = by_number_;
    constexpr std::size_t left_out = static_cast<std::size_t>(-1);
    std::vector<std::size_t> moved(job_count(), left_out);
    const auto waits = waiting_unread(keeps_check);
    for (std::size_t job = 0; job < job_count(); ++job) {
        if (!keeps_job(job)) continue;
        JobCodes now = codes_[job];
        now.first_day = now.last_day = 0;
        now.failed = 0;
        const auto range = results_of(job);
        for (auto row = range.first; row < range.last; ++row) {
            if (!keeps_result(job, row)) continue;
            const Day day = results_.day[row];
            part.results_.check.push_back(results_.check[row]);
            part.results_.marks.push_back(results_.marks[row]);
            part.results_.outcome.push_back(results_.outcome[row]);
            part.results_.day.push_back(day);
            part.results_.seconds.push_back(results_.seconds[row]);
            now.first_day = now.first_day == 0 ? day : std::min(now.first_day, day);
            now.last_day = std::max(now.last_day, day);
            now.failed += failed(row) ? 1 : 0;
        }
        if (part.results_.check.size() == part.first_result_.back() && !waits[job]) continue;
        const auto uses = uses_of(job);
        for (auto use = uses.first; use < uses.last; ++use) {
            if (!keeps_use(job, use)) continue;
            part.uses_.check.push_back(uses_.check[use]);
            part.uses_.place.push_back(uses_.place[use]);
            part.uses_.instrument.push_back(uses_.instrument[use]);
            part.uses_.text.push_back(uses_.text[use]);
            part.uses_.day.push_back(uses_.day[use]);
            part.uses_.calibrated.push_back(uses_.calibrated[use]);
            part.uses_.evidence.push_back(uses_.evidence[use]);
        }
        moved[job] = part.codes_.size();
        part.first_result_.push_back(part.results_.check.size());
        part.first_use_.push_back(part.uses_.check.size());
        part.codes_.push_back(now);
        part.batches_.push_back(batches_[job]);
        part.rest_.jobs.push_back(rest_.jobs[job]);
    }
    const auto take = [&](const auto& from, auto& into, const auto& keeps) {
        for (const auto& row : from)
            if (moved[row.job] != left_out && keeps(row)) {
                into.push_back(row);
                into.back().job = moved[row.job];
            }
    };
    const auto of_check = [&](const auto& row) { return keeps_check(row.job, row.check); };
    take(rest_.open, part.rest_.open, of_check);
    take(rest_.deferrals, part.rest_.deferrals, of_check);
    take(rest_.gauges, part.rest_.gauges, of_check);
    take(rest_.traces, part.rest_.traces, [](const JobTrace&) { return true; });
    take(rest_.complaints, part.rest_.complaints, [](const ComplaintRow&) { return true; });
    return part;
}

std::size_t Columns::job_of_use(std::size_t use) const {
    const auto after = std::upper_bound(first_use_.begin(), first_use_.end(), use);
    return static_cast<std::size_t>(after - first_use_.begin()) - 1;
}

CheckResult Columns::result(std::size_t job, std::size_t row) const {
    return {.job = job, .check = check(row), .failed = failed(row), .inconclusive = inconclusive(row),
            .corrected = (results_.marks[row] & ResultColumns::corrected) != 0,
            .outcome = names_.outcome.text(results_.outcome[row]), .day = day_text(results_.day[row]),
            .seconds = static_cast<int>(results_.seconds[row])};
}

InstrumentUse Columns::use(std::size_t job, std::size_t row) const {
    return {.job = job, .check = names_.check.text(uses_.check[row]), .place = names_.place.text(uses_.place[row]),
            .instrument = names_.instrument.text(uses_.instrument[row]), .day = day_text(uses_.day[row]),
            .calibrated = day_text(uses_.calibrated[row]), .is_evidence = uses_.evidence[row] != 0,
            .text = names_.text.text(uses_.text[row])};
}

AuditTable table_of(const Columns& columns) {
    AuditTable table = columns.rest();
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        for (auto row = columns.results_of(job).first; row < columns.results_of(job).last; ++row)
            table.results.push_back(columns.result(job, row));
        for (auto row = columns.uses_of(job).first; row < columns.uses_of(job).last; ++row)
            table.uses.push_back(columns.use(job, row));
    }
    return table;
}

}  // namespace wm::audit
