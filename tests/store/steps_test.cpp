// The power goes while the tables are brought to another version: before the step or after it, and nothing between.
#include "store/steps.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <array>
#include <set>
#include <string>
#include <vector>

#include "store/backup.hpp"
#include "store/power_loss.hpp"
#include "store/schema.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;

namespace {

const std::string vfs_name = "wm-steps";
const std::filesystem::path data = "/data";
const std::string journal_file = "/data/journal.db";
constexpr std::int64_t next_version = schema_version + 1;

// Three statements, so that there is something between; done twice it would count twice.
constexpr std::string_view counted_jobs = R"sql(
CREATE TABLE tally(
    job TEXT NOT NULL,
    entries INTEGER NOT NULL) STRICT;
INSERT INTO tally SELECT job, count(*) FROM entry GROUP BY job;
CREATE INDEX tally_of_job ON tally(job);
)sql";
/// The entry that starts the device is of no job.
constexpr const char* counted = "=1 J-1=3 J-2=2";

std::vector<Step> steps_with(std::string_view statements) {
    std::vector<Step> steps{own_steps().begin(), own_steps().end()};
    steps.push_back({next_version, statements});
    return steps;
}

Opening opening_on(MemoryDisk& disk, Steps steps) {
    Opening made = opening(data, "steps");
    made.disk = &disk;
    made.steps = steps;
    return made;
}

std::vector<std::string> hashes_in(const Journal& journal) {
    std::vector<std::string> hashes;
    const auto all = journal.read_all();
    if (!all) return hashes;
    for (const auto& written : all->entries) hashes.push_back(written.hash);
    return hashes;
}

/// A journal of the version before, as the power left it: its last entries stand in the log alone.
class Upgrade {
public:
    explicit Upgrade(std::string_view statements) : steps_{steps_with(statements)}, vfs_{vfs_name, nullptr} {
        MemoryDisk disk{vfs_name};
        vfs_.work_on(&disk);
        auto journal = Journal::open_to_write(opening_on(disk, own_steps()));
        REQUIRE(journal);
        for (const char* job : {"J-1", "J-2", "J-1", "J-2", "J-1"}) REQUIRE(journal->append(intent("", {{job, reading("a", "35")}})));
        stored_ = hashes_in(*journal);
        REQUIRE(stored_.size() == 6);
        left_ = image_of(disk);
    }

    struct Tally {
        std::size_t points = 0, before = 0, after = 0;
        std::string fault;  ///< the first one
    };
    Tally lose_power_while_opening(std::size_t seeds);

private:
    void put_into(MemoryDisk& disk, const Image& image) {
        for (const auto& [name, file] : image) disk.put(name, file);
        vfs_.work_on(&disk);
    }
    /// Empty where it is whole. `version` is that of the tables.
    std::string tables_are_whole(MemoryDisk& disk, std::int64_t& version) const;
    std::string copy_is_whole(MemoryDisk& disk) const;
    std::string goes_on(MemoryDisk& disk) const;

    std::vector<Step> steps_;
    MemoryVfs vfs_;
    std::vector<std::string> stored_;
    Image left_;
};

std::string Upgrade::tables_are_whole(MemoryDisk& disk, std::int64_t& version) const {
    const auto database = Database::opened(journal_file, disk.vfs(), OpenFor::Writing);
    if (!database) return "the file cannot be opened: " + database.error().what;
    const auto marked = database->number("PRAGMA user_version");
    const auto parts = database->number("SELECT count(*) FROM sqlite_schema WHERE name IN ('tally', 'tally_of_job')");
    if (!marked || !parts) return "the file cannot be read";
    version = *marked;
    if (version == schema_version && *parts == 0) return {};
    if (version != next_version || *parts != 2) return fmt::format("half done: version {} with {} of 2 parts", version, *parts);
    const auto rows = database->text("SELECT group_concat(job || '=' || entries, ' ') FROM (SELECT * FROM tally ORDER BY job)");
    if (!rows) return "the table of the step cannot be read: " + rows.error().what;
    return *rows == counted ? "" : "half done, or done twice: " + *rows;
}

std::string Upgrade::copy_is_whole(MemoryDisk& disk) const {
    const auto index = read_backup_index(data / "backups", disk);
    if (!index || index->lines.size() != 1) return "no copy was made before the step";
    const BackupLine& line = index->lines.front();
    if (line.name != fmt::format("2027-03-02-before-version-{}", next_version)) return "the copy is called " + line.name;
    if (line.reasons != std::vector<std::string>{fmt::format("Its tables are those of version {}.", schema_version)})
        return "the copy is told to be worse than it is";
    Opening of_copy = opening_on(disk, steps_);
    of_copy.file = data / "backups" / (line.name + ".journal");
    const auto copy = Journal::open_copy(std::move(of_copy), Keys::none(disk));
    if (!copy) return "the copy cannot be opened: " + copy.error().what;
    const auto report = copy->verify_journal();
    if (!report || !report->is_genuine()) return "the copy is not genuine";
    return hashes_in(*copy) == stored_ ? "" : "the copy holds other entries";
}

std::string Upgrade::goes_on(MemoryDisk& disk) const {
    std::vector<std::string> wanted = stored_;
    for (const bool again : {false, true}) {
        {
            auto journal = Journal::open_to_write(opening_on(disk, steps_));
            if (!journal) return "it cannot be opened: " + journal.error().what;
            if (!journal->read_only_because().empty()) return "it is read only: " + journal->read_only_because();
            const auto report = journal->verify_journal();
            if (!report || !report->is_genuine()) return "it is not genuine";
            if (hashes_in(*journal) != wanted) return "it holds other entries";
            if (!again) {
                const auto written = journal->append(intent("", {{"J-2", reading("a", "36")}}, some_time + 60'000));
                if (!written) return "nothing can be written: " + written.error().what;
                wanted.push_back(written->back().hash);
            }
        }
        std::int64_t version = 0;
        if (const auto fault = tables_are_whole(disk, version); !fault.empty()) return "opened again: " + fault;
        if (version != next_version) return "opened again it was not brought up";
    }
    return {};
}

Upgrade::Tally Upgrade::lose_power_while_opening(std::size_t seeds) {
    MemoryDisk recorded{vfs_name};
    put_into(recorded, left_);
    Aftermath aftermath{recorded};
    recorded.recording = true;
    {
        const auto journal = Journal::open_to_write(opening_on(recorded, steps_));
        REQUIRE_MESSAGE(journal, (journal ? "" : journal.error().what));
        recorded.mark(1);
    }
    Tally tally;
    bool is_opened = false;
    std::set<std::string> seen;
    for (std::size_t cut = 0; cut < recorded.changes.size() && tally.fault.empty(); ++cut) {
        aftermath.go_on(recorded.changes[cut]);
        is_opened = is_opened || recorded.changes[cut].kind == Change::Kind::Mark;
        for (std::size_t seed = 0; seed < (aftermath.all_is_synced() ? 1 : seeds) && tally.fault.empty(); ++seed) {
            Image image;
            const std::string word = aftermath.lose_power(Dice{cut * 7919 + seed}, image) + (is_opened ? " opened" : "");
            if (!seen.insert(word).second) continue;
            ++tally.points;
            // Each look has the files for itself: looking takes the log into the file.
            std::int64_t version = 0;
            MemoryDisk tables{vfs_name}, copy{vfs_name}, whole{vfs_name};
            put_into(tables, image);
            tally.fault = tables_are_whole(tables, version);
            const bool is_after = version == next_version;
            ++(is_after ? tally.after : tally.before);
            if (tally.fault.empty() && is_opened && !is_after) tally.fault = "it was opened, and the step is gone";
            put_into(copy, image);
            if (tally.fault.empty() && is_after) tally.fault = copy_is_whole(copy);
            put_into(whole, image);
            if (tally.fault.empty()) tally.fault = goes_on(whole);
            if (!tally.fault.empty()) tally.fault = fmt::format("after change {}, seed {}: {}", cut, seed, tally.fault);
        }
    }
    return tally;
}

}  // namespace

TEST_CASE("the steps of this program lead from 1 to its version without a gap") {
    std::int64_t version = 0;
    for (const Step& step : own_steps()) CHECK(step.version == ++version);
    CHECK(version == schema_version);
}

TEST_CASE("a loss of power at any moment of a step leaves the journal before it or after it") {
    Upgrade upgrade{counted_jobs};
    const auto tally = upgrade.lose_power_while_opening(8);
    CHECK(tally.fault == "");
    CHECK(tally.before > 10);
    CHECK(tally.after > 10);
    MESSAGE(tally.points, " losses of power: ", tally.before, " left the tables as they were, ", tally.after, " brought up");
}

// The controls: steps that break out of the transaction.

TEST_CASE("a step that is not in the transaction is caught half done") {
    const std::string tables{counted_jobs};
    for (const std::string& statements : {"COMMIT;" + tables + "BEGIN;",
                                          // The mark first: a next opening would take it for done.
                                          fmt::format("PRAGMA user_version = {}; COMMIT;", next_version) + tables + "BEGIN;"}) {
        CAPTURE(statements);
        Upgrade upgrade{statements};
        const auto tally = upgrade.lose_power_while_opening(8);
        CHECK(tally.fault.find("half done: version") != std::string::npos);
    }
}

TEST_CASE("a step that cannot be done leaves the tables as they were, and nothing is lost") {
    const Folder folder;
    const std::string statements = std::string{counted_jobs} + "INSERT INTO nowhere VALUES (1);";
    const auto broken = steps_with(statements), sound = steps_with(counted_jobs);
    { REQUIRE(writing(folder).append(intent("", {{"J-1", reading("a", "1")}}))); }
    auto how = opening(folder);
    how.steps = broken;
    const auto refused = Journal::open_to_write(how);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().what.find("nowhere") != std::string::npos);
    {
        const auto database = Database::opened(folder.path() / "journal.db", "", OpenFor::Writing).value();
        CHECK(database.number("PRAGMA user_version").value() == schema_version);
        CHECK(database.number("SELECT count(*) FROM sqlite_schema WHERE name = 'tally'").value() == 0);
    }
    how.steps = sound;
    const auto journal = Journal::open_to_write(how).value();
    CHECK(journal.read_only_because().empty());
    CHECK(journal.verify_journal().value().is_genuine());
    // Who knows only the steps before leaves it alone.
    auto older = opening(folder);
    const auto by_older = Journal::open_to_read(older);
    REQUIRE_FALSE(by_older);
    CHECK(by_older.error().what == fmt::format("This journal was written by a later version (tables {}, this program knows {}).",
                                               next_version, schema_version));
}
