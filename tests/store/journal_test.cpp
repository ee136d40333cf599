#include "store/journal.hpp"

#include <doctest/doctest.h>
#include <sqlite3.h>

#include <fstream>

#include "record/state.hpp"
#include "store/failing_vfs.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;
using wm::record::Draft;

namespace {

void run_sql(const std::filesystem::path& file, const char* sql) {
    sqlite3* database = nullptr;
    REQUIRE(sqlite3_open(file.c_str(), &database) == SQLITE_OK);
    REQUIRE(sqlite3_exec(database, sql, nullptr, nullptr, nullptr) == SQLITE_OK);
    sqlite3_close(database);
}

}  // namespace

TEST_CASE("what was appended is read again after closing, in order, with its words") {
    const Folder folder;
    std::string customer;
    std::vector<wm::record::Written> written;
    {
        Journal journal = writing(folder);
        customer = journal.new_customer().value();
        written = journal
                      .append(intent(customer, {{"J-1", reading("coll-tilt", "35 °")},
                                                {"J-1", note("Mind the dog.")}}))
                      .value();
        CHECK(written.size() == 2);
        CHECK(journal.head().hash == written.back().hash);
        CHECK(journal.head().seq == 3);
    }
    Journal again = writing(folder, "b");
    const Entries read = again.read_job("J-1").value();
    CHECK(read.damaged.empty());
    CHECK(read.entries == written);
    const auto& made = std::get<wm::record::NoteMade>(read.entries[1].entry.body);
    CHECK(made.text.text == "Mind the dog.");
    CHECK(again.head().hash == written.back().hash);
    CHECK(again.verify_journal().value().reasons == std::vector<std::string>{});
}

TEST_CASE("a chain begins with the start of the device, which append keeps to itself") {
    const Folder folder;
    Journal journal = writing(folder);
    CHECK(journal.append(intent("", {{"J-1", reading("coll-tilt", "35")}})).value().size() == 1);
    const Entries all = journal.read_all().value();
    REQUIRE(all.entries.size() == 2);
    const auto& started = std::get<wm::record::DeviceStarted>(all.entries[0].entry.body);
    CHECK(started.device == journal.device());
    CHECK(started.company_signature.empty());
}

TEST_CASE("with a company the device's key carries the company's word") {
    const Folder folder;
    Opening with_company = opening(folder);
    with_company.company = "Tarnhollow Sunworks";
    Journal journal = Journal::open_to_write(with_company).value();
    REQUIRE(journal.keys().company());
    REQUIRE(journal.append(intent("", {{"J-1", reading("coll-tilt", "35")}})));
    const Entries all = journal.read_all().value();
    CHECK_FALSE(
        std::get<wm::record::DeviceStarted>(all.entries[0].entry.body).company_signature.empty());
    CHECK(journal.verify_journal().value().is_genuine());
}

TEST_CASE("the same inputs give the same chain") {
    const Folder one;
    const Folder other;
    std::vector<std::string> heads;
    for (const Folder* folder : {&one, &other}) {
        Opening with_company = opening(folder->path());
        with_company.company = "Tarnhollow Sunworks";
        Journal journal = Journal::open_to_write(with_company).value();
        const std::string customer = journal.new_customer().value();
        REQUIRE(journal.append(
            intent(customer, {{"J-1", note("Words.")}, {"J-1", reading("a", "1")}})));
        heads.push_back(journal.head().hash);
    }
    CHECK(heads[0] == heads[1]);
}

TEST_CASE("a second writer is refused and a reader is let in") {
    const Folder folder;
    Journal journal = writing(folder);
    REQUIRE(journal.append(intent("", {{"J-1", reading("coll-tilt", "35")}})));
    const auto second = Journal::open_to_write(opening(folder));
    REQUIRE_FALSE(second);
    CHECK(second.error() ==
          wm::Problem{"Another window or program is writing into this data folder.",
                      folder.path().string(), "Close the other one, or look without writing.",
                      wm::ProblemKind::NotStored});
    Journal reader = Journal::open_to_read(opening(folder)).value();
    CHECK(reader.read_job("J-1").value().entries.size() == 1);
    REQUIRE(journal.append(intent("", {{"J-1", reading("coll-tilt", "36")}})));
    CHECK(reader.read_job("J-1").value().entries.size() == 2);
    CHECK_FALSE(reader.append(intent("", {{"J-1", reading("coll-tilt", "37")}})));
}

TEST_CASE("a journal can be moved and written on") {
    const Folder folder;
    Journal journal = writing(folder);
    Journal moved = std::move(journal);
    REQUIRE(moved.append(intent("", {{"J-1", reading("coll-tilt", "35")}})));
    CHECK(moved.read_all().value().entries.size() == 2);
}

TEST_CASE("a file of another program is refused and left byte for byte") {
    const Folder folder;
    const auto file = folder.path() / "journal.db";
    run_sql(file, "CREATE TABLE cake(eaten INTEGER)");
    const std::string before = bytes_of(file);
    const auto journal = Journal::open_to_write(opening(folder));
    REQUIRE_FALSE(journal);
    CHECK(journal.error().what == "This file belongs to another program; it was left as it is.");
    CHECK(bytes_of(file) == before);
    set_bytes(file, "This is no database at all, only some words that are long enough for a page.");
    CHECK_FALSE(Journal::open_to_write(opening(folder)));
    CHECK(bytes_of(file).substr(0, 7) == "This is");
}

TEST_CASE("a journal of a later version is refused and says so") {
    const Folder folder;
    { Journal journal = writing(folder); }
    run_sql(folder.path() / "journal.db", "PRAGMA user_version = 99");
    const auto journal = Journal::open_to_write(opening(folder));
    REQUIRE_FALSE(journal);
    CHECK(journal.error().what ==
          "This journal was written by a later version (tables 99, this program knows 1).");
    CHECK_FALSE(Journal::open_to_read(opening(folder)));
}

TEST_CASE("a folder without a journal cannot be read and nothing is made in it") {
    const Folder folder;
    CHECK_FALSE(Journal::open_to_read(opening(folder)));
    CHECK(std::filesystem::is_empty(folder.path()));
}

TEST_CASE("a changed row is left out when read, named, and found by the check") {
    for (const char* change :
         {"UPDATE entry SET body = replace(body, '36', '39') WHERE seq = 3",
          "UPDATE entry SET time = replace(time, '2027', '2026') WHERE seq = 3",
          "UPDATE entry SET job = 'J-2' WHERE seq = 3",
          "UPDATE entry SET hash = prev WHERE seq = 3"}) {
        CAPTURE(change);
        const Folder folder;
        {
            Journal journal = writing(folder);
            for (const char* text : {"35", "36", "37"}) {
                REQUIRE(journal.append(intent("", {{"J-1", reading("coll-tilt", text)}})));
            }
        }
        run_sql(folder.path() / "journal.db", change);
        Journal journal = writing(folder);
        const Entries all = journal.read_all().value();
        CHECK(all.entries.size() == 3);
        REQUIRE(all.damaged.size() == 1);
        CHECK(all.damaged[0] ==
              "device " + journal.device() + ", entry 3: It is not what its hash was made of.");
        CHECK_FALSE(journal.verify_journal().value().is_genuine());
        // The damage lies before the head, which is sound: writing goes on.
        CHECK(journal.append(intent("", {{"J-1", reading("coll-tilt", "38")}})));
    }
}

TEST_CASE("with a damaged last entry nothing is written and what is sound is read") {
    const Folder folder;
    {
        Journal journal = writing(folder);
        REQUIRE(
            journal.append(intent("", {{"J-1", reading("a", "35")}, {"J-1", reading("b", "36")}})));
    }
    run_sql(folder.path() / "journal.db", "UPDATE entry SET body = replace(body, '36', '39')");
    Journal journal = writing(folder);
    CHECK_FALSE(journal.read_only_because().empty());
    CHECK_FALSE(journal.append(intent("", {{"J-1", reading("c", "1")}})));
    CHECK(journal.read_job("J-1").value().entries.size() == 1);
}

TEST_CASE("an end that was cut off is found by the signed head") {
    const Folder folder;
    {
        Journal journal = writing(folder);
        REQUIRE(
            journal.append(intent("", {{"J-1", reading("a", "35")}, {"J-1", reading("b", "36")}})));
    }
    run_sql(folder.path() / "journal.db", "DELETE FROM entry WHERE seq = 3");
    const Journal journal = writing(folder);
    const JournalReport report = journal.verify_journal().value();
    REQUIRE(report.reasons.size() == 1);
    CHECK(report.reasons[0] ==
          "Device " + journal.device() +
              " had signed entry 3 as its last, and it is not here: the journal "
              "was set back.");
}

TEST_CASE("a torn journal file is refused or read as far as it is sound, and never changed") {
    const Folder folder;
    {
        Journal journal = writing(folder);
        for (int i = 0; i < 60; ++i) {
            REQUIRE(journal.append(intent("", {{"J-1", reading("c", std::string(300, 'x'))}})));
        }
    }
    const auto file = folder.path() / "journal.db";
    const std::string whole = bytes_of(file);
    for (const std::size_t page : {1U, 3U, 5U, 8U}) {
        CAPTURE(page);
        std::string torn = whole;
        torn.replace(page * 4096, 2048, std::string(2048, '\xee'));
        set_bytes(file, torn);
        const auto journal = Journal::open_to_read(opening(folder));
        if (journal) {
            const auto report = journal->verify_journal();
            if (report) CHECK_FALSE(report->is_genuine());
        } else {
            CHECK_FALSE(journal.error().what_to_do.empty());
        }
        CHECK(bytes_of(file) == torn);
    }
}

TEST_CASE("jobs are listed with their first and last entry") {
    const Folder folder;
    Journal journal = writing(folder);
    REQUIRE(journal.append(intent("", {{"J-2", reading("a", "1")}})));
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}}, some_time + 5000)));
    const auto last =
        journal.append(intent("", {{"J-1", reading("b", "2")}}, some_time + 9000)).value();
    const auto jobs = journal.jobs().value();
    REQUIRE(jobs.size() == 2);
    CHECK(jobs[0].job == "J-1");
    CHECK(jobs[0].first_time == "2027-03-02T15:06:45.000Z.0000");
    CHECK(jobs[0].last_time == last[0].entry.time);
    CHECK(jobs[0].last_hash == last[0].hash);
    CHECK(journal.job_line("J-1").value()->last_hash == last[0].hash);
    CHECK(journal.job_line("J-1").value()->first_time == jobs[0].first_time);
    CHECK_FALSE(journal.job_line("J-3").value());
}

TEST_CASE("entries of a device itself are in its stream and its chain") {
    const Folder folder;
    Journal journal = writing(folder);
    REQUIRE(
        journal.append(intent("", {{"", wm::record::ClockJumped{"a", "b", 180000, "within a boot"}},
                                   {"J-1", reading("a", "1")}})));
    CHECK(journal.read_stream().value().entries.size() == 2);
    CHECK(journal.read_chain(journal.device(), 2).value().entries.size() == 2);
    // A clock jump is shown with every job.
    CHECK(journal.read_job("J-1").value().entries.size() == 2);
    CHECK(journal.heads().value() == std::vector<wm::record::Head>{journal.head()});
    const auto heads = journal.signed_heads().value();
    REQUIRE(heads.size() == 1);
    CHECK(wm::record::is_genuine(heads[0]));
}

TEST_CASE("the clock of a new entry is later than the last even when the wall clock went back") {
    const Folder folder;
    {
        Journal journal = writing(folder);
        REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}})));
    }
    Journal journal = writing(folder);
    REQUIRE(journal.append(intent("", {{"J-1", reading("b", "1")}}, some_time - 3'600'000)));
    const auto entries = journal.read_job("J-1").value().entries;
    CHECK(entries[0].entry.time < entries[1].entry.time);
    CHECK(journal.verify_journal().value().is_genuine());
}

TEST_CASE("an attachment is kept locked and comes back whole") {
    const Folder folder;
    Journal journal = writing(folder);
    const std::string customer = journal.new_customer().value();
    const std::string picture = "picture of a roof, not to be read";
    auto kept = journal.keep(customer, picture, "image/jpeg", "f00d").value();
    CHECK(journal.attachment(kept.id).value() == picture);
    auto taken = reading("coll-tilt", "35");
    taken.photos = {kept};
    REQUIRE(journal.append(intent(customer, {{"J-1", taken}})));
    CHECK(journal.attachment(kept.id).value() == picture);
    CHECK(files_holding(folder, "not to be read").empty());
    CHECK_FALSE(journal.attachment(std::string(64, 'a')));
    CHECK_FALSE(journal.keep("nobody", picture, "image/jpeg", ""));

    const auto file = folder.path() / "attachments" / kept.id;
    set_bytes(file, bytes_of(file) + "x");
    CHECK(journal.attachment(kept.id).error().what ==
          "This attachment was changed after it was stored.");
    CHECK_FALSE(journal.verify_journal().value().is_genuine());
    std::filesystem::remove(file);
    CHECK_FALSE(journal.verify_journal().value().is_genuine());
}

TEST_CASE("an intent whose words cannot be locked leaves nothing behind") {
    const Folder folder;
    Journal journal = writing(folder);
    CHECK_FALSE(
        journal.append(intent("nobody", {{"J-1", reading("a", "1")}, {"J-1", note("Words.")}})));
    CHECK(journal.read_all().value().entries.empty());
    CHECK(journal.append(intent("", {{"J-1", reading("a", "1")}})));
}

TEST_CASE("caches are kept, replaced and thrown away") {
    const Folder folder;
    Journal journal = writing(folder);
    CHECK_FALSE(journal.cache("job J-1"));
    REQUIRE(journal.put_cache("job J-1", {"h1", "one"}));
    REQUIRE(journal.put_cache("job J-1", {"h2", "two"}));
    REQUIRE(journal.put_cache("week 9", {"h2", "w"}));
    CHECK(journal.cache("job J-1")->made_from == "h2");
    CHECK(journal.cache("job J-1")->body == "two");
    CHECK(journal.cache("week 9")->body == "w");
    REQUIRE(journal.drop_caches());
    CHECK_FALSE(journal.cache("job J-1"));
    CHECK_FALSE(journal.cache("week 9"));
}

TEST_CASE("what a cache holds cannot be read in the files, and an erasure throws it away") {
    const Folder folder;
    Journal journal = writing(folder);
    const auto customer = journal.new_customer().value();
    REQUIRE(journal.append(intent(customer, {{"J-1", note("Ansa Velmorrin.")}})));
    REQUIRE(journal.put_cache("job list", {"rows", "a row with Ansa Velmorrin"}));
    for (const auto& file : std::filesystem::recursive_directory_iterator(folder.path())) {
        if (!file.is_regular_file()) continue;
        CAPTURE(file.path().string());
        CHECK(bytes_of(file.path()).find("Velmorrin") == std::string::npos);
    }
    CHECK(journal.erasures() == 0);
    REQUIRE(journal.erase_customer(customer, some_time + 1000));
    CHECK_FALSE(journal.cache("job list"));
    CHECK(journal.erasures() == 1);
}

TEST_CASE("the version of a journal tells that another program wrote into it") {
    const Folder folder;
    Journal journal = writing(folder);
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}})));
    auto other = Journal::open_to_read(opening(folder)).value();
    const auto before = other.version();
    CHECK(other.version() == before);
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", "2")}})));
    CHECK(other.version() != before);
}

TEST_CASE("all jobs are listed, however their numbers sort") {
    const Folder folder;
    Journal journal = writing(folder);
    for (const char* job : {"J-10", "J-1", "J-1a", "a", "Ü"}) REQUIRE(journal.append(intent("", {{job, reading("a", "1")}})));
    std::vector<std::string> found;
    const auto jobs = journal.jobs().value();
    for (const auto& line : jobs) found.push_back(line.job);
    CHECK(found == std::vector<std::string>{"J-1", "J-10", "J-1a", "a", "Ü"});
}

TEST_CASE("a folder that goes on as a new device names the old one") {
    const Folder folder;
    Journal journal = writing(folder);
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}})));
    const std::string before = journal.device();
    REQUIRE(journal.become_new_device(some_time));
    CHECK(journal.device() != before);
    REQUIRE(journal.append(intent("", {{"J-1", reading("b", "2")}})));
    const auto chain = journal.read_chain(journal.device(), 1).value().entries;
    REQUIRE(chain.size() == 2);
    CHECK(std::get<wm::record::DeviceStarted>(chain[0].entry.body).predecessor == before);
    CHECK(journal.verify_journal().value().is_genuine());
    CHECK(journal.read_job("J-1").value().entries.size() == 2);
}

TEST_CASE("whichever write or sync fails, a journal holds all of an intent or nothing") {
    for (const Failing what : {Failing::Write, Failing::Sync}) {
        for (const int code : {SQLITE_FULL, SQLITE_IOERR_WRITE, SQLITE_IOERR_FSYNC}) {
            bool all_passed = false;
            for (int n = 1; !all_passed; ++n) {
                CAPTURE(n);
                CAPTURE(code);
                REQUIRE(n < 200);
                const Folder folder;
                FailingVfs disk;
                bool acknowledged = false;
                {
                    Opening on_disk = opening(folder);
                    on_disk.vfs = FailingVfs::name;
                    Journal journal = Journal::open_to_write(on_disk).value();
                    REQUIRE(journal.append(intent("", {{"J-1", reading("first", "1")}})));
                    disk.fail(what, n, code);
                    const auto done = journal.append(
                        intent("", {{"J-1", reading("second", "2")}, {"J-1", note("third")}}));
                    acknowledged = done.has_value();
                    all_passed = !disk.has_failed();
                    CHECK((acknowledged || disk.has_failed()));
                    if (!acknowledged) {
                        CHECK_FALSE(done.error().what_to_do.empty());
                        CHECK(done.error().kind == wm::ProblemKind::NotStored);
                        const bool is_full = code == SQLITE_FULL;
                        CHECK(journal.read_only_because().empty() == is_full);
                    }
                    disk.fail(what, 0, 0);
                }
                Journal journal = writing(folder);
                const std::size_t entries = journal.read_job("J-1").value().entries.size();
                CHECK((entries == 1 || entries == 3));
                if (acknowledged) CHECK(entries == 3);
                CHECK(journal.verify_journal().value().reasons == std::vector<std::string>{});
                CHECK(journal.append(intent("", {{"J-1", reading("next", "4")}})));
            }
        }
    }
}

TEST_CASE("whichever write fails at the first start, the folder can be opened afterwards") {
    bool all_passed = false;
    for (int n = 1; !all_passed; ++n) {
        CAPTURE(n);
        REQUIRE(n < 200);
        const Folder folder;
        FailingVfs disk;
        disk.fail(Failing::Write, n, SQLITE_IOERR_WRITE);
        {
            Opening on_disk = opening(folder);
            on_disk.vfs = FailingVfs::name;
            const auto journal = Journal::open_to_write(on_disk);
            all_passed = !disk.has_failed();
        }
        disk.fail(Failing::Write, 0, 0);
        Journal journal = writing(folder);
        CHECK(journal.append(intent("", {{"J-1", reading("a", "1")}})));
        CHECK(journal.verify_journal().value().is_genuine());
    }
}

TEST_CASE("a journal that lost its end, its head or itself takes no further entry and says why") {
    const auto damage = [](const char* sql) {
        const Folder folder;
        {
            Journal journal = writing(folder);
            for (const char* text : {"1", "2", "3"}) REQUIRE(journal.append(intent("", {{"J-1", reading("a", text)}})));
        }
        run_sql(folder.path() / "journal.db", sql);
        Journal again = writing(folder, "b");
        CHECK_FALSE(again.append(intent("", {{"J-1", reading("a", "4")}})));
        CHECK_FALSE(again.verify_journal().value().is_genuine());
        return again.read_only_because();
    };
    CHECK(damage("DELETE FROM entry WHERE seq > 2").find("set back") != std::string::npos);
    CHECK(damage("DELETE FROM head").find("signed head of this device is missing") != std::string::npos);

    const Folder folder;
    { REQUIRE(writing(folder).append(intent("", {{"J-1", reading("a", "1")}}))); }
    for (const char* name : {"journal.db-wal", "journal.db-shm", "journal.db"}) std::filesystem::remove(folder.path() / name);
    const auto missing = Journal::open_to_write(opening(folder.path()));
    REQUIRE_FALSE(missing);
    CHECK(missing.error().what == "The journal is missing or empty, and its keys are still here.");
    std::ofstream{folder.path() / "journal.db"};
    CHECK_FALSE(Journal::open_to_write(opening(folder.path())));
}
