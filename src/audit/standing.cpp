#include "audit/standing.hpp"

#include <algorithm>
#include <optional>
#include <set>
#include <utility>

#include "units/calendar.hpp"

namespace wm::audit {

namespace {

bool is_recent(const std::string& day, const std::string& last_day) {
    return units::days_between(day, last_day).value_or(0) <= in_use_days;
}

/// Material and batch behind "relief valve RV-K17".
std::optional<std::pair<Code, Code>> batch_named(const Columns& columns, const std::string& subject) {
    const auto& names = columns.names();
    for (Code material = 0; material < names.material.size(); ++material) {
        const auto& name = names.material.text(material);
        if (!subject.starts_with(name + " ")) continue;
        if (const auto batch = names.batch.find(subject.substr(name.size() + 1))) return std::pair{material, *batch};
    }
    return std::nullopt;
}

/// The calibration under which the last readings of the series were taken; 0 where it is not known.
Day calibration_of(const Columns& columns, const GaugeDrift& drift) {
    for (const auto& one : columns.rest().gauges)
        if (one.instrument == drift.instrument && one.day == drift.days.back() && columns.card(one.job).job == drift.jobs.back())
            return day_code(one.calibrated);
    return 0;
}

}  // namespace

BatchStanding standing_of(const Columns& columns, const Question& question, const std::string& last_day) {
    BatchStanding standing;
    const auto batch = batch_named(columns, question.subject);
    if (!batch) return standing;
    const auto has_it = [&](std::size_t job) {
        const auto& batches = columns.batches(job);
        return std::find(batches.begin(), batches.end(), *batch) != batches.end();
    };
    const Day last = day_code(last_day);
    Day fitted = 0;
    for (std::size_t job = 0; job < columns.job_count(); ++job)
        if (const Day day = columns.codes(job).first_day; day > fitted && day <= last && has_it(job)) fitted = day;
    if (fitted != 0) {
        standing.last_fitted = day_text(fitted);
        standing.is_in_use = is_recent(standing.last_fitted, last_day);
    }
    for (const auto& item : columns.rest().open)
        if (item.check == question.check && item.since <= last_day && has_it(item.job)) ++standing.waiting;
    return standing;
}

GaugeStanding standing_of(const Columns& columns, const GaugeDrift& drift, const std::string& last_day) {
    GaugeStanding standing;
    if (drift.days.empty() || drift.jobs.size() != drift.days.size()) return standing;
    standing.is_in_use = is_recent(drift.days.back(), last_day);
    const auto instrument = columns.names().instrument.find(drift.instrument);
    const auto check = columns.names().check.find("pressure-limit-set");
    const Day calibrated = calibration_of(columns, drift);
    const Day last = day_code(last_day);
    Day since = 0;
    const auto later = [&](Day day, Day of) {
        // Where the calibration of the series is not known, one after its last reading is later in any case.
        const Day before = calibrated != 0 ? calibrated : day_code(drift.days.back());
        if (day <= last && of > before && (since == 0 || of < since)) since = of;
    };
    for (const auto& one : columns.rest().gauges)
        if (one.instrument == drift.instrument) later(day_code(one.day), day_code(one.calibrated));
    const std::set<std::string_view> jobs{drift.jobs.begin() + static_cast<std::ptrdiff_t>(std::min(drift.onset, drift.jobs.size())), drift.jobs.end()};
    std::size_t proofs = 0;
    std::size_t set_aside = 0;
    const auto& uses = columns.uses();
    for (std::size_t use = 0; instrument && use < uses.instrument.size(); ++use) {
        if (uses.instrument[use] != *instrument) continue;
        later(uses.day[use], uses.calibrated[use]);
        if (!check || uses.check[use] != *check || !jobs.contains(columns.card(columns.job_of_use(use)).job)) continue;
        ++(uses.evidence[use] != 0 ? proofs : set_aside);
    }
    if (since != 0) standing.calibrated_since = day_text(since);
    standing.is_set_aside = set_aside > 0 && proofs == 0;
    return standing;
}

}  // namespace wm::audit
