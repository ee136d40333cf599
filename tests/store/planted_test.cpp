// Stands for the whole room: what somebody writes into the files with a right hash and without the key of a device.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "record/codec.hpp"
#include "store/sqlite_file.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;
using wm::record::Written;

namespace {

Foreign all_of(const Journal& journal) {
    Foreign foreign;
    foreign.entries = journal.read_all().value().entries;
    foreign.heads = journal.signed_heads().value();
    return foreign;
}

/// An entry that goes on after `last` as its device would, its hash right.
Written after(const Written& last, std::string job, wm::record::Body body) {
    Written next{{last.entry.device, last.entry.seq + 1, last.hash, last.entry.time, std::move(job), std::move(body)}, ""};
    next.entry.time.back() = static_cast<char>(next.entry.time.back() + 1);
    next.hash = wm::record::hash_of(next.entry).value();
    return next;
}

void insert(const std::filesystem::path& folder, const Written& written) {
    const auto database = Database::opened(folder / "journal.db", "", OpenFor::Writing).value();
    auto row = database.prepared("INSERT INTO entry VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)").value();
    row.bind(1, written.entry.device).bind(2, written.entry.seq).bind(3, written.entry.prev).bind(4, written.hash);
    row.bind(5, written.entry.time).bind(6, written.entry.job).bind(7, wm::record::body_text(written.entry.body).value());
    REQUIRE(row.run());
}

void run_sql(const std::filesystem::path& folder, const std::string& sql) {
    const auto done = Database::opened(folder / "journal.db", "", OpenFor::Writing).value().run(sql);
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
}

bool tells(const std::vector<std::string>& sentences, const std::string& words) {
    return std::any_of(sentences.begin(), sentences.end(),
                       [&](const std::string& each) { return each.find(words) != std::string::npos; });
}

Written last_of(const std::filesystem::path& folder) { return writing(folder).read_all().value().entries.back(); }

}  // namespace

TEST_CASE("an entry that the device did not sign is told, and nothing is written after it") {
    const Folder folder;
    { REQUIRE(writing(folder).append(intent("", {{"J-1", reading("a", "35")}}))); }
    insert(folder, after(last_of(folder), "J-1", reading("a", "36")));
    Journal journal = writing(folder);
    const auto read = journal.read_job("J-1").value();
    CHECK(read.entries.size() == 2);
    CHECK(tells(read.damaged, "it did not sign what stands after its entry 2"));
    CHECK(tells(journal.verify_journal().value().reasons, "did not sign its last entry here, 3"));
    const auto refused = journal.append(intent("", {{"J-1", reading("a", "37")}}));
    REQUIRE_FALSE(refused);
    CHECK(refused.error().what.find("did not sign entry 3") != std::string::npos);
}

TEST_CASE("an entry put after the chain of another device is told in its job") {
    const Folder a, b;
    Journal theirs = writing(a, "a");
    REQUIRE(theirs.append(intent("", {{"J-1", reading("a", "35")}})));
    { REQUIRE(writing(b, "b").merge(all_of(theirs), some_time)); }
    insert(b, after(theirs.read_all().value().entries.back(), "J-1", reading("a", "36")));
    const Journal ours = writing(b, "b");
    CHECK(tells(ours.read_job("J-1").value().damaged, "it did not sign what stands after its entry 2"));
    CHECK_FALSE(ours.verify_journal().value().is_genuine());
}

TEST_CASE("a chain whose middle was written anew is told in the job, though every hash is right") {
    const Folder folder;
    {
        Journal journal = writing(folder);
        for (const char* text : {"35", "36", "37"}) REQUIRE(journal.append(intent("", {{"J-1", reading("a", text)}})));
    }
    auto entries = writing(folder).read_all().value().entries;
    std::get<wm::record::ReadingTaken>(entries[2].entry.body).text = "63";
    for (const bool to_the_end : {false, true}) {
        CAPTURE(to_the_end);
        for (std::size_t i = 2; i < (to_the_end ? entries.size() : 3); ++i) {
            entries[i].entry.prev = entries[i - 1].hash;
            entries[i].hash = wm::record::hash_of(entries[i].entry).value();
            run_sql(folder, "DELETE FROM entry WHERE seq = " + std::to_string(i + 1));
            insert(folder, entries[i]);
        }
        const Journal journal = writing(folder);
        const auto read = journal.read_job("J-1").value();
        CHECK(read.entries.size() == 3);
        CHECK(tells(read.damaged, to_the_end ? "it did not sign what stands after its entry 0" : "entry 4 does not continue the one before it"));
        CHECK_FALSE(journal.verify_journal().value().is_genuine());
    }
}

TEST_CASE("a bundle brings nothing that the device it names did not sign") {
    const Folder a, b;
    Journal theirs = writing(a, "a");
    REQUIRE(theirs.append(intent("", {{"J-1", reading("a", "35")}})));
    Journal ours = writing(b, "b");
    Foreign forged = all_of(theirs);
    forged.entries.push_back(after(forged.entries.back(), "J-1", reading("a", "36")));
    const auto taken = ours.merge(forged, some_time);
    REQUIRE_FALSE(taken);
    CHECK(taken.error().what == "Entry 3 of device " + theirs.device() + " is signed by nobody.");
    CHECK(ours.read_all().value().entries.empty());
    forged = all_of(theirs);
    forged.heads.clear();
    CHECK_FALSE(ours.merge(forged, some_time));
    CHECK(ours.merge(all_of(theirs), some_time));
}

TEST_CASE("a customer is not erased by a row that no entry stands for") {
    const Folder folder;
    std::string customer;
    {
        Journal journal = writing(folder);
        customer = journal.new_customer().value();
        REQUIRE(journal.append(intent(customer, {{"J-1", opened(customer)}, {"J-1", note("Mind the dog.")}})));
    }
    run_sql(folder, "INSERT INTO erased VALUES ('" + customer + "')");
    {
        const Journal journal = writing(folder);
        const auto read = journal.read_job("J-1").value();
        CHECK(wm::record::shown(std::get<wm::record::NoteMade>(read.entries.back().entry.body).text) == "Mind the dog.");
        CHECK(journal.erased_customers().value().empty());
        CHECK(tells(journal.verify_journal().value().reasons, "is marked as erased, and no entry says so"));
    }
    // Nor by an entry that nobody signed.
    insert(folder, after(last_of(folder), "", wm::record::CustomerErased{customer}));
    const Journal journal = writing(folder);
    CHECK(tells(journal.verify_journal().value().reasons, "did not sign its last entry here"));
    CHECK(Keys::open(folder).value().customer(customer).has_value());
}

TEST_CASE("what was planted in the tables is not run, is told, and nothing more is written") {
    struct Row {
        std::string sql, told;
    };
    for (const Row& row :
         {Row{"CREATE TRIGGER eats AFTER INSERT ON entry BEGIN DELETE FROM entry WHERE hash = new.hash; END", "trigger \"eats\""},
          Row{"CREATE TABLE more(x)", "table \"more\""},
          Row{"CREATE VIEW more AS SELECT 1", "view \"more\""},
          // With it the words of a second person would be left out without a word.
          Row{"CREATE UNIQUE INDEX one ON personal(customer)", "index \"one\""},
          Row{"DROP INDEX entry_of_job", "index \"entry_of_job\" of the journal file is missing"},
          Row{"DROP TABLE cache; CREATE TABLE cache(name, made_from, body)", "table \"cache\" of the journal file was made anew"}}) {
        CAPTURE(row.sql);
        const Folder folder;
        { REQUIRE(writing(folder).append(intent("", {{"J-1", reading("a", "35")}}))); }
        run_sql(folder, row.sql);
        Journal journal = writing(folder);
        const auto refused = journal.append(intent("", {{"J-1", reading("a", "36")}}));
        REQUIRE_FALSE(refused);
        CHECK(refused.error().what.find(row.told) != std::string::npos);
        const auto read = journal.read_job("J-1").value();
        CHECK(read.entries.size() == 1);
        CHECK(tells(read.damaged, row.told));
        CHECK(tells(journal.verify_journal().value().reasons, row.told));
    }
}
