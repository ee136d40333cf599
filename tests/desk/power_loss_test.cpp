// Stands for the whole room: what is promised to a person outlives a loss of power at any moment.
#include <doctest/doctest.h>

#include <algorithm>

#include <chrono>
#include <cstdlib>

#include "desk/recorded_work.hpp"
#include "digest/hash.hpp"

namespace wm::desk {

using testing::opened_whole;
using testing::RecordedWork;

namespace {

const char* wanted_seeds() { return std::getenv("WM_POWER_SEEDS"); }

store::testing::Tally tally_of(RecordedWork& work, std::size_t seeds) {
    const store::testing::MemoryDisk empty{work.disk.vfs()};
    return store::testing::lose_power(work.vfs, empty, work.disk.changes, work.promised, testing::memory_journal, seeds,
                                      [&](const store::testing::Image& image, std::size_t intents) -> std::string {
                                          // The rows of every state are compared; opening each whole under the
                                          // sanitizers takes too long, so the many like readings are sampled.
                                          const bool is_like_others = intents > 25 && intents + 12 < work.promised.counts.size();
                                          if (wanted_seeds() == nullptr && is_like_others && intents % 8 != 0) return {};
                                          return opened_whole(work, image, intents);
                                      });
}

std::size_t seeds_or(std::size_t otherwise) {
    return wanted_seeds() == nullptr ? otherwise : std::strtoul(wanted_seeds(), nullptr, 10);
}

}  // namespace

TEST_CASE("no loss of power at any moment of real work loses what was acknowledged") {
    RecordedWork work{"wm-power"};
    work.do_all();
    // Under the sanitizers some 6,000 points; the suite asks the same of the Release build for 200,000 beside it,
    // scripts/soak powerloss for millions.
    const auto tally = tally_of(work, seeds_or(3));
    for (const auto& fault : tally.faults) FAIL_CHECK(fault);
    MESSAGE(tally.points, " losses of power over ", work.disk.changes.size(), " changes of the disk and ",
            work.promised.counts.size() - 1, " intents left ", tally.images, " different disks and ", tally.states,
            " states of the journal");
    CHECK(tally.states > work.promised.counts.size());
    CHECK(tally.points > 2'000 * seeds_or(3));
}

// The controls: the same harness on work that deserves no trust.

TEST_CASE("a journal that syncs less than it should is caught losing what it acknowledged") {
    RecordedWork work{"wm-power"};
    work.syncs_normally = true;
    work.do_little();
    const auto tally = tally_of(work, 40);
    REQUIRE_FALSE(tally.faults.empty());
    // A journal that ends before its kept head also goes on as a new device, which is told first.
    CHECK(std::any_of(tally.faults.begin(), tally.faults.end(),
                      [](const std::string& fault) { return fault.find("were acknowledged") != std::string::npos; }));
}

TEST_CASE("an acknowledgement before the commit is caught") {
    RecordedWork work{"wm-power", RecordedWork::Promise::BeforeCommit};
    work.do_little();
    const auto tally = tally_of(work, 40);
    REQUIRE_FALSE(tally.faults.empty());
    CHECK(tally.faults.front().find("were acknowledged") != std::string::npos);
}

TEST_CASE("a chain head kept across a rollback is caught, and the same rows without the gap are not") {
    for (const bool kept : {true, false}) {
        CAPTURE(kept);
        RecordedWork work{"wm-power"};
        work.do_little();
        // A copy goes on by two entries; what a kept head leaves is the second without the first.
        store::testing::MemoryDisk copy{work.disk.vfs()};
        for (const auto& [name, file] : store::testing::image_of(work.disk)) copy.put(name, file);
        work.vfs.work_on(&copy);
        std::vector<record::Written> further;
        record::SignedHead end;
        {
            auto journal = store::Journal::open_to_write({.folder = testing::memory_data, .random = testing::seeded("copy"),
                                                          .wall_ms = *work.clock.wall_ms, .company = "", .vfs = "", .disk = &copy});
            REQUIRE(journal);
            for (int i = 0; i < 2; ++i)
                further.push_back(journal->append({*work.clock.wall_ms, "", {{"", record::ClockJumped{"a", "b", i, "within a boot"}}}})
                                      .value().front());
            end = journal->signed_heads().value().front();
        }
        if (kept) further.erase(further.begin());
        work.vfs.work_on(&work.disk);
        sqlite3* database = nullptr;
        REQUIRE(sqlite3_open_v2(testing::memory_journal.c_str(), &database, SQLITE_OPEN_READWRITE, work.disk.vfs().c_str()) == SQLITE_OK);
        REQUIRE(sqlite3_exec(database, "BEGIN", nullptr, nullptr, nullptr) == SQLITE_OK);
        for (const auto& [entry, hash] : further) {
            const std::string row = "INSERT INTO entry VALUES('" + entry.device + "'," + std::to_string(entry.seq) + ",'" + entry.prev +
                                    "','" + hash + "','" + entry.time + "','" + entry.job + "','" +
                                    record::body_text(entry.body).value() + "')";
            REQUIRE(sqlite3_exec(database, row.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK);
            work.promised.entries.push_back(hash);
            work.promised.counts.push_back(work.promised.entries.size());
            work.folds.push_back(work.folds.back());
        }
        // Signed rightly, so that it is the chain that gives it away.
        const std::string head = "INSERT INTO head VALUES('" + end.head.device + "'," + std::to_string(end.head.seq) + ",'" +
                                 end.head.hash + "',x'" + digest::to_hex(end.public_key) + "',x'" + digest::to_hex(end.signature) + "')";
        REQUIRE(sqlite3_exec(database, (head + ";COMMIT").c_str(), nullptr, nullptr, nullptr) == SQLITE_OK);
        sqlite3_close(database);
        const auto tally = tally_of(work, 10);
        CHECK(tally.faults.empty() == !kept);
        // Told when the job is read, or at the latest when the chain is checked.
        if (kept && !tally.faults.empty()) {
            const auto& told = tally.faults.front();
            CAPTURE(told);
            CHECK((told.find("not genuine") != std::string::npos || told.find("cannot be read whole") != std::string::npos));
        }
    }
}

}  // namespace wm::desk
