#include "bench/many_results.hpp"

#include <fmt/format.h>

#include "demo/drawn_season.hpp"
#include "units/calendar.hpp"

namespace wm::bench {

namespace {

/// Rows of the job at the head of `from`, as rows of a job alone.
template <class Row>
void take_rows(const std::vector<Row>& from, std::size_t& at, std::size_t job, std::vector<Row>& into) {
    for (; at < from.size() && from[at].job == job; ++at) {
        into.push_back(from[at]);
        into.back().job = 0;
    }
}

}  // namespace

audit::Columns many_results(const HowMany& wanted) {
    audit::Columns columns;
    std::uint64_t seed = 1;
    const auto is_enough = [&] { return columns.result_count() >= wanted.results || columns.job_count() >= wanted.jobs; };
    for (int year = 0; !is_enough(); year = (year + 1) % 8, ++seed) {
        const auto season = demo::drawn_season({.seed = seed});
        audit::AuditTable one;
        std::size_t result = 0, deferral = 0, gauge = 0, trace = 0;
        for (std::size_t j = 0; j < season.jobs.size() && !is_enough(); ++j) {
            one = {};
            one.jobs.push_back(season.jobs[j]);
            auto& card = one.jobs.back();
            card.job = fmt::format("J-{:06}", columns.job_count());
            const auto moved = [&](const std::string& day) { return units::day_after(day, -364 * year).value_or(day); };
            card.day = moved(card.day);
            card.week = units::week_of(card.day).value_or("");
            const std::string office = fmt::format(" {}", seed % 10);
            card.crew += office;
            take_rows(season.results, result, j, one.results);
            take_rows(season.deferrals, deferral, j, one.deferrals);
            take_rows(season.gauges, gauge, j, one.gauges);
            take_rows(season.traces, trace, j, one.traces);
            for (auto row : season.complaints) {
                if (row.job != j) continue;
                row.job = 0;
                row.day = moved(row.day);
                if (!row.closed.empty()) row.closed = moved(row.closed);
                one.complaints.push_back(std::move(row));
            }
            for (auto& row : one.gauges) {
                row.day = moved(row.day);
                row.instrument += office;
            }
            for (auto& row : one.deferrals) {
                row.since = moved(row.since);
                if (!row.closed.empty()) row.closed = moved(row.closed);
            }
            // A third of the checks is measured with a tool.
            for (std::size_t i = 0; i < one.results.size(); ++i) {
                auto& row = one.results[i];
                row.day = moved(row.day);
                if (i % 3 == 0)
                    one.uses.push_back({.job = 0, .check = row.check, .place = "", .instrument = one.gauges.front().instrument, .day = row.day,
                                        .calibrated = "", .is_evidence = true, .text = fmt::format("{} kPa", 300 + (i + j) % 200)});
            }
            columns.put(one);
        }
    }
    return columns;
}

}  // namespace wm::bench
