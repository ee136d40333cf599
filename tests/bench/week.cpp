// The week over up to ten million results, against SQLite counting the same.
#include <sqlite3.h>

#include <iostream>

#include "app/world.hpp"
#include "audit/health.hpp"
#include "audit/season_charts.hpp"
#include "audit/try_counts.hpp"
#include "audit/week.hpp"
#include "bench/benches.hpp"
#include "bench/many_results.hpp"
#include "bench/timing.hpp"
#include "desk/complaints.hpp"
#include "desk/trace.hpp"
#include "desk/week.hpp"
#include "units/calendar.hpp"

namespace wm::bench {

namespace {

void must(int code, const char* what) {
    if (code == SQLITE_OK || code == SQLITE_DONE) return;
    std::cerr << what << ": SQLite says " << code << "\n";
    std::exit(4);
}

sqlite3* in_sqlite(const audit::Columns& columns) {
    sqlite3* db = nullptr;
    must(sqlite3_open(":memory:", &db), "open");
    must(sqlite3_exec(db, "create table r(week int, chk int, crew int, failed int) strict; begin", nullptr, nullptr, nullptr), "make");
    sqlite3_stmt* insert = nullptr;
    must(sqlite3_prepare_v2(db, "insert into r values(?,?,?,?)", -1, &insert, nullptr), "insert");
    for (std::size_t job = 0; job < columns.job_count(); ++job)
        for (auto row = columns.results_of(job).first; row < columns.results_of(job).last; ++row) {
            sqlite3_bind_int64(insert, 1, columns.codes(job).week);
            sqlite3_bind_int64(insert, 2, columns.results().check[row]);
            sqlite3_bind_int64(insert, 3, columns.codes(job).crew);
            sqlite3_bind_int(insert, 4, columns.failed(row) ? 1 : 0);
            must(sqlite3_step(insert), "row");
            sqlite3_reset(insert);
        }
    sqlite3_finalize(insert);
    must(sqlite3_exec(db, "commit", nullptr, nullptr, nullptr), "commit");
    return db;
}

void time_sqlite(sqlite3* db, const std::string& name, double seconds) {
    tell(name, times_of(20, seconds, [&] {
             must(sqlite3_exec(db, "select chk, crew, count(*), sum(failed) from r group by chk, crew",
                               [](void*, int, char**, char**) { return 0; }, nullptr, nullptr),
                  "group by");
         }));
}

/// What the yardsticks are asked, and no more: tries and failures of each check and crew, cold columns.
std::vector<audit::Tally> plain_counts(const audit::Columns& columns) {
    const std::size_t crews = columns.names().crew.size();
    std::vector<audit::Tally> counts(columns.names().check.size() * crews);
    const auto& rows = columns.results();
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto crew = columns.codes(job).crew;
        for (auto row = columns.results_of(job).first; row < columns.results_of(job).last; ++row) {
            auto& tally = counts[rows.check[row] * crews + crew];
            ++tally.tries;
            tally.failed += rows.marks[row] & audit::ResultColumns::failed;
        }
    }
    return counts;
}

void write_rows(const audit::Columns& columns, const std::string& path) {
    auto* file = std::fopen(path.c_str(), "w");
    if (file == nullptr) return;
    for (std::size_t job = 0; job < columns.job_count(); ++job)
        for (auto row = columns.results_of(job).first; row < columns.results_of(job).last; ++row)
            fmt::print(file, "{}\t{}\t{}\t{}\n", columns.codes(job).week, columns.results().check[row], columns.codes(job).crew,
                       columns.failed(row) ? 1 : 0);
    std::fclose(file);
}

std::vector<desk::JobRow> rows_for(const audit::Columns& columns) {
    std::vector<desk::JobRow> rows;
    for (const auto& card : columns.rest().jobs) {
        auto& row = rows.emplace_back();
        row.job = card.job;
        row.place = card.street;
        row.customer = "Ansa Velmorrin";
        row.state = "handed over";
    }
    return rows;
}

void time_columns(std::size_t results, const std::string& rows_file, const audit::CheckCards& cards, const audit::SymptomLinks& links, double seconds) {
    const auto columns = many_results({.results = results});
    const std::string name = fmt::format("{} results", columns.result_count());
    const auto weeks = audit::weeks_of(columns);
    const auto& last = weeks.back();
    tell("plain count, " + name, times_of(50, seconds, [&] { keep(plain_counts(columns)); }));
    // By check, crew, parts and what is alike, in all weeks: more than the yardsticks are asked.
    tell("all counts, " + name, times_of(50, seconds, [&] {
             const audit::TryCounts counted{columns, {0, 0xFFFFFFFF, 0}, audit::Spread::Yes};
             keep(counted.checks().size());
         }));
    audit::WeekSettings usual;
    usual.links = links;
    tell("week, " + name, times_of(20, seconds, [&] { keep(audit::week_audit(columns, cards, last, usual)); }));
    auto all_time = usual;
    all_time.weeks_back = 53 * 12;
    tell("week looking back on all, " + name, times_of(20, seconds, [&] {
             keep(audit::week_audit(columns, cards, last, all_time));
             keep(audit::season_points(columns, last, all_time.weeks_back));
             keep(audit::crew_funnel(columns, "2000-01-01", "2100-01-01"));
             keep(audit::health_of(columns, cards, {.first_day = "2000-01-01", .last_day = "2100-01-01"}));
         }));
    auto kept = columns.kept();
    tell("columns read again, " + name, times_of(5, seconds, [&] { keep(audit::Columns::read_kept(kept)); }));
    kept = {};
    const auto listed = rows_for(columns);
    tell("trace of an instrument, " + name, times_of(20, seconds, [&] {
             keep(desk::traced(columns, cards, listed, {"Lanternfold", ""}, {columns.names().instrument.text(0), "2000-01-01", "", ""}));
         }));
    if (!rows_file.empty() && results == 1'000'000) write_rows(columns, rows_file);
    if (results > 1'000'000) return;  // SQLite alone would fill the memory
    auto* db = in_sqlite(columns);
    time_sqlite(db, "SQLite group by, " + name, seconds);
    must(sqlite3_exec(db, "create index covering on r(chk, crew, failed)", nullptr, nullptr, nullptr), "index");
    time_sqlite(db, "SQLite group by, covering index, " + name, seconds);
    sqlite3_close(db);
}

}  // namespace

int week(const std::string& data, const std::string& rows_file, double seconds) {
    const std::vector<std::string> words = {"week", "--data", data};
    const auto arguments = app::sort_arguments(words);
    if (!arguments) return 2;
    const auto world = app::world_for(*arguments);
    if (!world) return 2;
    auto desk = app::open_desk(*world, desk::Access::Read);
    if (!desk) {
        std::cerr << told(desk.error()) << "\n";
        return 3;
    }
    tell("job list, first look", times_of(1, seconds, [&] { keep(desk->job_rows()); }));
    // A window that writes keeps the rows; the next start reads them.
    if (auto writer = app::open_desk(*world, desk::Access::Write)) keep(writer->job_rows());
    if (auto next = app::open_desk(*world, desk::Access::Read))
        tell("job list, next start", times_of(1, seconds, [&] { keep(next->job_rows()); }));
    tell("job list, again", times_of(50, seconds, [&] { keep(desk->job_rows()); }));
    const auto cards = desk::cards_of(desk->library());
    tell("week columns, first look", times_of(1, seconds, [&] { keep(desk->audit_columns()); }));
    if (auto writer = app::open_desk(*world, desk::Access::Write)) keep(writer->audit_columns());
    if (auto next = app::open_desk(*world, desk::Access::Read))
        tell("week columns, next start", times_of(1, seconds, [&] { keep(next->audit_columns()); }));
    tell("week columns, again", times_of(50, seconds, [&] { keep(desk->audit_columns()); }));
    const auto failures = desk::failure_list(*desk);
    if (!failures) {
        std::cerr << told(failures.error()) << "\n";
        return 3;
    }
    for (const std::size_t results : {10'000U, 100'000U, 1'000'000U, 10'000'000U})
        time_columns(results, rows_file, cards, desk::links_of(*failures), seconds);
    return 0;
}

}  // namespace wm::bench
