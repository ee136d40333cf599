// The week over a season, against SQLite counting the same results.
#include <sqlite3.h>

#include <iostream>

#include "app/world.hpp"
#include "audit/week.hpp"
#include "bench/benches.hpp"
#include "bench/timing.hpp"
#include "desk/week.hpp"

namespace wm::bench {

namespace {

// As many seasons side by side as `times`, each with jobs of its own.
audit::AuditTable many(const audit::AuditTable& one, int times) {
    audit::AuditTable all;
    for (int i = 0; i < times; ++i) {
        const std::size_t shift = all.jobs.size();
        for (auto job : one.jobs) {
            job.job += fmt::format("-{}", i);
            all.jobs.push_back(std::move(job));
        }
        for (auto result : one.results) {
            result.job += shift;
            all.results.push_back(std::move(result));
        }
        for (auto item : one.open) {
            item.job += shift;
            all.open.push_back(std::move(item));
        }
    }
    return all;
}

void must(int code, const char* what) {
    if (code == SQLITE_OK || code == SQLITE_DONE) return;
    std::cerr << what << ": SQLite says " << code << "\n";
    std::exit(4);
}

sqlite3* in_sqlite(const audit::AuditTable& table) {
    sqlite3* db = nullptr;
    must(sqlite3_open(":memory:", &db), "open");
    must(sqlite3_exec(db, "create table r(chk text, crew text, failed int); begin", nullptr, nullptr, nullptr), "make");
    sqlite3_stmt* insert = nullptr;
    must(sqlite3_prepare_v2(db, "insert into r values(?,?,?)", -1, &insert, nullptr), "insert");
    for (const auto& result : table.results) {
        const auto& crew = table.jobs[result.job].crew;
        sqlite3_bind_text(insert, 1, result.check.data(), static_cast<int>(result.check.size()), nullptr);
        sqlite3_bind_text(insert, 2, crew.data(), static_cast<int>(crew.size()), nullptr);
        sqlite3_bind_int(insert, 3, result.failed ? 1 : 0);
        must(sqlite3_step(insert), "row");
        sqlite3_reset(insert);
    }
    sqlite3_finalize(insert);
    must(sqlite3_exec(db, "commit", nullptr, nullptr, nullptr), "commit");
    return db;
}

}  // namespace

int week(const std::string& data, double seconds) {
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
    const auto counted = desk->audit_table();
    if (!counted) return 3;
    const auto& table = *counted;
    const auto cards = desk::cards_of(desk->library());
    const auto weeks = audit::weeks_of(*table);
    for (const int times : {1, 4, 16, 64}) {
        const auto all = many(*table, times);
        const std::string name = fmt::format("{} results", all.results.size());
        tell("week, " + name, times_of(20, seconds, [&] { keep(audit::week_audit(all, cards, weeks.back())); }));
        auto* db = in_sqlite(all);
        tell("SQLite group by, " + name, times_of(20, seconds, [&] {
                 must(sqlite3_exec(db, "select chk, crew, count(*), sum(failed) from r group by chk, crew",
                                   [](void*, int, char**, char**) { return 0; }, nullptr, nullptr),
                      "group by");
             }));
        sqlite3_close(db);
    }
    return 0;
}

}  // namespace wm::bench
