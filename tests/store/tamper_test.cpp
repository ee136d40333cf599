// Stands for the whole room: a journal that was altered outside this program is found out when it is read.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <string>

#include "record/state.hpp"
#include "store/sqlite_file.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;
namespace fs = std::filesystem;

namespace {

/// What anybody learns from a journal: every entry of every job with its words, and the devices' stream.
using Facts = std::map<std::string, std::vector<std::string>>;

std::vector<std::string> facts_of(const Entries& read) {
    std::vector<std::string> facts;
    for (const auto& written : read.entries) {
        std::string fact = written.hash;
        if (const auto* made = std::get_if<wm::record::NoteMade>(&written.entry.body)) fact += wm::record::shown(made->text);
        facts.push_back(std::move(fact));
    }
    return facts;
}

/// Nothing where something in it cannot be read: then the person is told.
std::optional<Facts> facts_in(const Journal& journal) {
    Facts facts;
    const auto jobs = journal.jobs();
    if (!jobs) return std::nullopt;
    std::vector<std::string> names{"J-1", "J-2"};
    for (const auto& line : *jobs) names.push_back(line.job);
    for (const std::string& job : names) {
        const auto read = journal.read_job(job);
        if (!read || !read->damaged.empty()) return std::nullopt;
        // A name that a damaged index lists and under which nothing stands says nothing.
        if (auto found = facts_of(*read); !found.empty()) facts[job] = std::move(found);
    }
    return facts;
}

struct Written {
    Folder folder;
    std::string bytes;  ///< of journal.db, with nothing beside it
    Facts facts;
    std::vector<std::string> hashes;

    Written() {
        Journal journal = writing(folder);
        const std::string customer = journal.new_customer().value();
        REQUIRE(journal.append(intent(customer, {{"J-1", opened(customer)}, {"J-1", reading("a", "1")}})));
        REQUIRE(journal.append(intent(customer, {{"J-1", note("Mind the dog.")}})));
        REQUIRE(journal.append(intent(customer, {{"J-2", reading("b", "20 N·m")}, {"J-2", reading("b", "23 N·m")}})));
        REQUIRE(journal.append(intent(customer, {{"J-1", reading("a", "3")}})));
        facts = *facts_in(journal);
        const auto all = journal.read_all().value();
        for (const auto& written : all.entries) hashes.push_back(written.hash);
        REQUIRE(journal.copy_tables_to(folder.path() / "whole"));
        bytes = bytes_of(folder.path() / "whole");
    }
    [[nodiscard]] wm::Result<Journal> opened_as(const std::string& altered) const {
        set_bytes(folder.path() / "altered", altered);
        Opening how{.folder = folder, .random = {}, .wall_ms = 0, .company = "", .vfs = ""};
        how.file = folder.path() / "altered";
        return Journal::open_copy(how, Keys::open(folder).value());
    }
    /// A folder with the same keys whose journal was altered by SQL, opened to write.
    [[nodiscard]] wm::Result<Journal> with(const std::string& sql) const {
        for (const char* name : {"journal.db", "journal.db-wal", "journal.db-shm"}) fs::remove(folder.path() / name);
        set_bytes(folder.path() / "journal.db", bytes);
        {
            const auto database = Database::opened(folder.path() / "journal.db", "", OpenFor::Writing).value();
            const auto done = database.run(sql);
            REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
        }
        return Journal::open_to_write(opening(folder, "later"));
    }
};

}  // namespace

TEST_CASE("whichever byte of a journal file is changed, it is told when read, or no fact has changed") {
    const Written written;
    const char* step_given = std::getenv("WM_FLIP_STEP");
    const std::size_t step = step_given == nullptr ? 61 : static_cast<std::size_t>(std::atoi(step_given));
    std::size_t refused = 0, told = 0, harmless = 0;
    for (std::size_t at = 0; at < written.bytes.size(); at += step) {
        std::string altered = written.bytes;
        altered[at] = static_cast<char>(altered[at] ^ (1 << (at / step % 8)));
        CAPTURE(at);
        const auto journal = written.opened_as(altered);
        if (!journal) {
            ++refused;
            continue;
        }
        const auto report = journal->verify_journal();
        const auto facts = facts_in(*journal);
        // Reading tells, or gives what was written: never another fact in silence.
        if (facts) CHECK(*facts == written.facts);
        if (!report || !report->is_genuine() || !facts) ++told;
        else ++harmless;
        // Of what is sound, nothing is altered and it can still be read.
        const auto all = journal->read_all();
        if (!all) continue;
        for (const auto& each : all->entries)
            CHECK(std::find(written.hashes.begin(), written.hashes.end(), each.hash) != written.hashes.end());
    }
    const std::size_t changed = refused + told + harmless;
    MESSAGE(changed, " bytes changed: ", refused, " not opened, ", told, " told, ", harmless, " without a changed fact");
    CHECK(told > 0);
}

namespace {

/// Where the page of the index of the jobs begins in the file; it has one.
std::size_t index_page(const Written& written) {
    set_bytes(written.folder.path() / "asked", written.bytes);
    const auto database = Database::opened(written.folder.path() / "asked", "", OpenFor::Reading).value();
    const auto page = database.number("SELECT rootpage FROM sqlite_schema WHERE name = 'entry_of_job'").value();
    return static_cast<std::size_t>(page - 1) * 4096;
}

}  // namespace

// The page of an index by the SQLite file format (https://www.sqlite.org/fileformat2.html, 1.6): its number of cells in the bytes
// 3 and 4, the offsets of the cells from byte 8 on.
TEST_CASE("jobs that the index has lost are still read from the table, and it is told") {
    const Written written;
    const std::size_t page = index_page(written);
    REQUIRE(written.bytes[page] == '\x0a');  // a leaf of an index
    const int cells = written.bytes[page + 4];
    REQUIRE(cells == 7);
    for (const char number : {'\x00', '\x01', '\x03', '\x06', '\x16'}) {
        std::string altered = written.bytes;
        altered[page + 4] = number;
        CAPTURE(number);
        const auto journal = written.opened_as(altered);
        REQUIRE(journal);
        const auto jobs = journal->jobs();
        REQUIRE(jobs);
        CHECK(jobs->size() == 2);
        for (const auto& [job, facts] : written.facts) {
            const auto read = journal->read_job(job);
            REQUIRE(read);
            CHECK(facts_of(*read) == facts);
            CHECK_FALSE(read->damaged.empty());
        }
    }
}

TEST_CASE("jobs past which an altered key of the index leads are still found") {
    const Written written;
    const std::size_t page = index_page(written);
    std::size_t told = 0;
    for (std::size_t cell = 0; cell < 7; ++cell) {
        const auto high = static_cast<unsigned char>(written.bytes[page + 8 + 2 * cell]);
        const auto low = static_cast<unsigned char>(written.bytes[page + 9 + 2 * cell]);
        const auto name = written.bytes.find("J-", page + high * 256U + low);
        if (cell == 0) continue;  // of the devices' stream, which has no job
        REQUIRE(name < page + high * 256U + low + 12);
        for (const char letter : {'A', 'Z'}) {
            std::string altered = written.bytes;
            altered[name] = letter;
            CAPTURE(cell);
            CAPTURE(letter);
            const auto journal = written.opened_as(altered);
            REQUIRE(journal);
            for (const auto& [job, facts] : written.facts) {
                const auto read = journal->read_job(job);
                REQUIRE(read);
                if (!read->damaged.empty()) ++told;
                else CHECK(facts_of(*read) == facts);
            }
        }
    }
    CHECK(told > 0);
}

TEST_CASE("entries dropped, doubled, swapped, cut off or moved are named, and the sound part is read") {
    const Written written;
    struct Case {
        const char* name;
        const char* sql;
        const char* reason;  ///< part of it
        std::size_t readable;
    };
    for (const Case& each : {
             Case{"dropped in the middle", "DELETE FROM entry WHERE seq = 3", "", 6},
             Case{"the first dropped", "DELETE FROM entry WHERE seq = 1", "", 6},
             Case{"the tail cut", "DELETE FROM entry WHERE seq > 4", "the journal was set back", 4},
             Case{"the tail cut with the signed head", "DELETE FROM entry WHERE seq > 4; DELETE FROM head", "The signed head of this device is missing", 4},
             Case{"doubled under another number", "INSERT INTO entry SELECT device, 99, prev, hash, time, job, body FROM entry WHERE seq = 3", "It is not what its hash was made of", 7},
             Case{"two swapped", "UPDATE entry SET seq = 100 WHERE seq = 3; UPDATE entry SET seq = 3 WHERE seq = 4; UPDATE entry SET seq = 4 WHERE seq = 100", "It is not what its hash was made of", 5},
             Case{"a body put over another", "UPDATE entry SET body = (SELECT body FROM entry AS o WHERE o.seq = 6) WHERE seq = 5", "It is not what its hash was made of", 6},
             Case{"moved to another job", "UPDATE entry SET job = 'J-2' WHERE seq = 3", "It is not what its hash was made of", 6},
             Case{"an earlier time", "UPDATE entry SET time = '2020-01-01T00:00:00.000Z.0000' WHERE seq = 3", "It is not what its hash was made of", 6},
         }) {
        CAPTURE(std::string{each.name});
        auto journal = written.with(each.sql);
        REQUIRE(journal);
        const auto report = journal->verify_journal().value();
        CHECK_FALSE(report.is_genuine());
        const bool is_named = std::any_of(report.reasons.begin(), report.reasons.end(),
                                          [&](const std::string& reason) { return reason.find(each.reason) != std::string::npos; });
        CHECK_MESSAGE(is_named, (report.reasons.empty() ? "no reason" : report.reasons.front()));
        const auto all = journal->read_all().value();
        CHECK(all.entries.size() == each.readable);
        for (const auto& read : all.entries)
            CHECK(std::find(written.hashes.begin(), written.hashes.end(), read.hash) != written.hashes.end());
        // Whoever only looks at the jobs, or wants to write on, is told too.
        const auto facts = facts_in(*journal);
        CHECK((!facts || facts == written.facts || !journal->read_only_because().empty()));
    }
}

TEST_CASE("an entry of another device does not pass for one of ours") {
    const Written written;
    const Folder elsewhere;
    Journal other = writing(elsewhere, "another");
    REQUIRE(other.append(intent("", {{"J-1", reading("a", "9")}})));
    const auto foreign = other.read_all().value().entries.back();
    const auto body = wm::record::body_text(foreign.entry.body).value();
    const auto row = [&](const std::string& device, const std::string& seq, const std::string& prev) {
        return "INSERT INTO entry VALUES (" + device + ", " + seq + ", " + prev + ", '" + foreign.hash + "', '" + foreign.entry.time +
               "', 'J-1', '" + body + "')";
    };
    const std::string ours = "(SELECT device FROM head)", last = "(SELECT hash FROM head)";
    // As it was, without the beginning of its chain; and bent to follow ours.
    for (const std::string& sql : {row("'" + foreign.entry.device + "'", "2", "'" + foreign.entry.prev + "'"), row(ours, "8", last)}) {
        auto journal = written.with(sql);
        REQUIRE(journal);
        CHECK_FALSE(journal->verify_journal().value().is_genuine());
    }
}

TEST_CASE("where the end was cut off or set back, nothing more is written over it") {
    const Written written;
    for (const char* sql : {"DELETE FROM entry WHERE seq > 4", "DELETE FROM entry WHERE seq > 4; DELETE FROM head",
                            "UPDATE entry SET body = replace(body, '\"3\"', '\"8\"') WHERE seq = 7"}) {
        auto journal = written.with(sql);
        REQUIRE(journal);
        const auto more = journal->append(intent("", {{"J-1", reading("a", "4")}}));
        REQUIRE_FALSE(more);
        CHECK(more.error().what.starts_with("Nothing more is written into this journal."));
    }
}
