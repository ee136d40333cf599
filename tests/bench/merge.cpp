// A bundle of ten thousand entries taken in, against the same rows put into a table by a plain upsert.
#include <sqlite3.h>

#include <iostream>

#include "app/world.hpp"
#include "bench/benches.hpp"
#include "bench/many_jobs.hpp"
#include "bench/timing.hpp"
#include "record/codec.hpp"
#include "store/journal.hpp"

namespace wm::bench {

namespace {

namespace fs = std::filesystem;

void must(int code, const char* what) {
    if (code == SQLITE_OK || code == SQLITE_DONE || code == SQLITE_ROW) return;
    std::cerr << what << ": SQLite says " << code << "\n";
    std::exit(4);
}

store::Opening opening(const fs::path& folder, const std::string& seed) {
    return {.folder = folder, .random = app::seeded_random(seed), .wall_ms = 1'900'000'000'000, .company = "Bench", .vfs = ""};
}

using Row = std::vector<std::string>;

/// The same table, indexes, log and sync as the journal has, and nothing else done: no hash, no chain, no words.
double plain_upsert(const fs::path& file, const std::vector<Row>& rows) {
    fs::remove(file);
    sqlite3* db = nullptr;
    must(sqlite3_open(file.c_str(), &db), "open");
    must(sqlite3_exec(db, "pragma journal_mode=wal; pragma synchronous=full; pragma secure_delete=on;"
                          "create table entry(device text not null, seq integer not null, prev text not null, hash text not null, time text not null,"
                          " job text not null, body text not null, primary key(device, seq, hash)) strict; create index entry_of_job on entry(job, time, hash)",
                      nullptr, nullptr, nullptr), "make");
    const auto took = times_of(1, 1.0, [&] {
        must(sqlite3_exec(db, "begin immediate", nullptr, nullptr, nullptr), "begin");
        sqlite3_stmt* insert = nullptr;
        must(sqlite3_prepare_v2(db, "insert into entry values(?,?,?,?,?,?,?) on conflict do nothing", -1, &insert, nullptr), "insert");
        for (const Row& row : rows) {
            for (int i = 0; i < 7; ++i) sqlite3_bind_text(insert, i + 1, row[static_cast<std::size_t>(i)].data(), static_cast<int>(row[static_cast<std::size_t>(i)].size()), SQLITE_STATIC);
            must(sqlite3_step(insert), "row");
            sqlite3_reset(insert);
        }
        sqlite3_finalize(insert);
        must(sqlite3_exec(db, "commit", nullptr, nullptr, nullptr), "commit");
    });
    sqlite3_close(db);
    return took.front();
}

}  // namespace

int merge(const fs::path& season, const fs::path& folder, double seconds) {
    make_many(season, folder / "theirs", 100, 100);
    const auto theirs = store::Journal::open_to_read(opening(folder / "theirs", "x"));
    if (!theirs) return 4;
    const auto all = theirs->read_all();
    const auto heads = theirs->signed_heads();
    if (!all || !heads) return 4;
    const auto words = theirs->words_of(all->entries);
    if (!words) return 4;
    const store::Foreign foreign{.entries = all->entries, .heads = *heads, .words = *words, .files = {}, .customer_keys = {}};
    std::vector<Row> rows;
    for (const auto& [entry, hash] : all->entries)
        rows.push_back({entry.device, std::to_string(entry.seq), entry.prev, hash, entry.time, entry.job, record::body_text(entry.body).value_or("")});
    std::vector<double> ours, again, plain;
    const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(seconds * 4);
    for (int round = 0; round < 9 && (round < 2 || std::chrono::steady_clock::now() < end); ++round) {
        const auto here = folder / fmt::format("ours-{}", round);
        auto journal = store::Journal::open_to_write(opening(here, "ours"));
        if (!journal) return 4;
        for (auto* times : {&ours, &again}) {
            auto copy = foreign;
            times->push_back(times_of(1, 1.0, [&] {
                                 const auto merged = journal->merge(std::move(copy), 1'900'000'000'000);
                                 if (!merged || (times == &ours) != (merged->fresh.size() == rows.size())) {
                                     std::cerr << (merged ? "not all was taken\n" : told(merged.error()));
                                     std::exit(4);
                                 }
                             })
                                 .front());
        }
        plain.push_back(plain_upsert(folder / "plain.db", rows));
    }
    const auto name = fmt::format("{} entries", rows.size());
    tell("merge, " + name, ours);
    tell("merge again, " + name, again);
    tell("plain upsert, " + name, plain);
    return 0;
}

}  // namespace wm::bench
