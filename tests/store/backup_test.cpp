#include "store/backup.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "store/schema.hpp"
#include "store/sqlite_file.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;
namespace fs = std::filesystem;

namespace {

BackupRequest on(const std::string& day, const std::string& passphrase = "") {
    return {.day = day, .made_at = day + "T08:00:00+05:00", .passphrase = passphrase};
}

BackupMade made(const Journal& journal, const std::string& day, const std::string& passphrase = "") {
    auto done = make_backup(journal, on(day, passphrase), counted_bytes("backup" + day));
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
    return *done;
}

std::vector<std::string> names_in(const fs::path& backups) {
    std::vector<std::string> names;
    const auto index = read_backup_index(backups).value();
    for (const auto& line : index.lines) names.push_back(line.name);
    return names;
}

}  // namespace

TEST_CASE("a backup holds the entries, words and files of the journal and says that it was verified") {
    const Folder folder;
    Journal journal = writing(folder);
    const std::string customer = journal.new_customer().value();
    const auto photo = journal.keep(customer, "a roof", "image/jpeg", "").value();
    wm::record::ReadingTaken taken = reading("a", "1");
    taken.photos = {photo};
    REQUIRE(journal.append(intent(customer, {{"J-1", opened(customer)}, {"J-1", taken}, {"J-1", note("Ansa Velmorrin")}})));
    const BackupMade backup = made(journal, "2027-03-02");
    CHECK(backup.file == folder.path() / "backups/2027-03-02.journal");
    CHECK(backup.line.is_good());
    CHECK(backup.line.entries == 4);
    CHECK(backup.line.jobs == 1);
    CHECK(backup.line.heads == journal.heads().value());
    CHECK(backup.attachments == 1);
    CHECK(bytes_of(folder.path() / "backups/attachments" / photo.id) == bytes_of(folder.path() / "attachments" / photo.id));
    // Nothing of it lies open, and the second backup of a day copies no file again.
    CHECK(files_holding(folder.path() / "backups", "Velmorrin").empty());
    CHECK(made(journal, "2027-03-02").attachments == 0);
    CHECK(names_in(folder.path() / "backups") == std::vector<std::string>{"2027-03-02"});
}

TEST_CASE("no signing key lies open in a backup, whatever was set") {
    const Folder folder;
    Opening with_company = opening(folder);
    with_company.company = "Tarnhollow Sunworks";
    Journal journal = Journal::open_to_write(with_company).value();
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}})));
    const auto secret = wm::digest::to_hex(journal.keys().device().secret);
    const auto company = wm::digest::company_file(*journal.keys().company());
    const fs::path keys = folder.path() / "backups/keys";
    const auto shut = [&] {
        for (const std::string& hidden : {secret, journal.keys().device().secret, company, wm::digest::to_hex(company)})
            CHECK(files_holding(folder.path() / "backups", hidden).empty());
    };
    SUBCASE("neither PIN nor passphrase: they are not in it") {
        made(journal, "2027-03-02");
        shut();
        CHECK(fs::exists(keys / "master.key"));
        CHECK_FALSE(fs::exists(keys / "keys.box"));
    }
    SUBCASE("a passphrase: locked under it, and the master key no longer beside it") {
        made(journal, "2027-03-02");
        made(journal, "2027-03-03", "six lanterns");
        shut();
        CHECK(fs::exists(keys / "keys.box"));
        CHECK_FALSE(fs::exists(keys / "master.key"));
    }
    SUBCASE("PINs: sealed as in the data folder") {
        made(journal, "2027-03-02");
        CHECK(fs::exists(keys / "master.key"));
        REQUIRE(journal.put_person({"Ilka Marrowby", Role::Owner}, "482913", {1, 8}));
        // At once, not with the next backup: with it the copies would open without a PIN.
        CHECK_FALSE(fs::exists(keys / "master.key"));
        CHECK(bytes_of(keys / "device.sealed") == bytes_of(folder.path() / "keys/device.sealed"));
        made(journal, "2027-03-03");
        shut();
        CHECK(bytes_of(keys / "device.sealed") == bytes_of(folder.path() / "keys/device.sealed"));
        CHECK(fs::exists(keys / "people.json"));
        CHECK_FALSE(fs::exists(keys / "master.key"));
    }
}

TEST_CASE("seven days and four weeks are kept, and of odd names the two newest") {
    std::vector<std::string> names;
    // 60 days in a row up to Friday 2027-03-05; 2027-02-28 is a Sunday.
    for (int month : {1, 2})
        for (int day = 1; day <= (month == 1 ? 31 : 28); ++day)
            names.push_back("2027-0" + std::to_string(month) + (day < 10 ? "-0" : "-") + std::to_string(day));
    for (int day = 1; day <= 5; ++day) names.push_back("2027-03-0" + std::to_string(day));
    for (const char* odd : {"2027-01-05-damaged", "2027-02-05-set-back", "2027-03-05-damaged"}) names.emplace_back(odd);
    const auto drop = backups_to_drop(names);
    std::vector<std::string> kept;
    for (const auto& name : names)
        if (std::find(drop.begin(), drop.end(), name) == drop.end()) kept.push_back(name);
    // Days 02-27 to 03-05; then the last day of each week before: Friday 02-26 ends what is left of its week.
    CHECK(kept == std::vector<std::string>{"2027-02-07", "2027-02-14", "2027-02-21", "2027-02-26", "2027-02-27", "2027-02-28", "2027-03-01",
                                           "2027-03-02", "2027-03-03", "2027-03-04", "2027-03-05", "2027-02-05-set-back",
                                           "2027-03-05-damaged"});
}

TEST_CASE("a damaged journal is copied beside the good backups and drives none of them out") {
    const Folder folder;
    {
        Journal journal = writing(folder);
        REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}, {"J-1", reading("a", "2")}, {"J-1", reading("a", "3")}})));
        for (int day = 1; day <= 9; ++day) made(journal, "2027-03-0" + std::to_string(day));
    }
    const auto before = names_in(folder.path() / "backups");
    CHECK(before.size() == 8);  // seven days and the Monday of the week before them
    {
        const auto database = Database::opened(folder.path() / "journal.db", "", OpenFor::Writing).value();
        REQUIRE(database.run("UPDATE entry SET body = replace(body, '\"2\"', '\"9\"') WHERE seq = 3"));
    }
    const Journal journal = writing(folder, "b");
    const BackupMade backup = made(journal, "2027-03-10");
    CHECK(backup.line.name == "2027-03-10-damaged");
    CHECK_FALSE(backup.line.is_good());
    CHECK(backup.dropped.empty());
    auto expected = before;
    expected.emplace_back("2027-03-10-damaged");
    CHECK(names_in(folder.path() / "backups") == expected);
}

TEST_CASE("a journal that was set back does not replace the backup that knows more") {
    const Folder folder;
    std::string earlier;
    {
        Journal journal = writing(folder);
        REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}})));
        REQUIRE(journal.copy_tables_to(folder.path() / "earlier"));
        REQUIRE(journal.append(intent("", {{"J-1", reading("a", "2")}})));
        made(journal, "2027-03-02");
    }
    for (const char* name : {"journal.db", "journal.db-wal", "journal.db-shm"}) fs::remove(folder.path() / name);
    fs::rename(folder.path() / "earlier", folder.path() / "journal.db");
    const Journal journal = writing(folder, "b");
    CHECK(journal.verify_journal().value().is_genuine());  // nothing in the folder itself tells
    CHECK(made(journal, "2027-03-02").line.name == "2027-03-02-set-back");
    CHECK(read_backup_index(folder.path() / "backups").value().lines.front().entries == 3);
}

TEST_CASE("an erased customer cannot be read from any backup, nor can his photo be found there") {
    const Folder folder;
    Journal journal = writing(folder);
    const std::string customer = journal.new_customer().value();
    const auto photo = journal.keep(customer, "a roof", "image/jpeg", "").value();
    wm::record::ReadingTaken taken = reading("a", "1");
    taken.photos = {photo};
    REQUIRE(journal.append(intent(customer, {{"J-1", opened(customer)}, {"J-1", taken}, {"J-1", note("Ansa Velmorrin")}})));
    made(journal, "2027-03-01");
    const auto readable = [&] {
        Opening of_copy{.folder = folder.path() / "backups", .random = {}, .wall_ms = 0, .company = "", .vfs = ""};
        of_copy.file = folder.path() / "backups/2027-03-01.journal";
        // The keys as the backup itself holds them.
        const auto copy = Journal::open_copy(of_copy, Keys::open_or_make(folder.path() / "backups", counted_bytes("x"), "", 0).value());
        REQUIRE(copy);
        const auto entries = copy->read_job("J-1").value().entries;
        const auto* words = std::get_if<wm::record::NoteMade>(&entries.back().entry.body);
        REQUIRE(words != nullptr);
        return words->text.text.has_value();
    };
    CHECK(readable());
    REQUIRE(journal.erase_customer(customer, some_time));
    CHECK_FALSE(readable());
    CHECK_FALSE(fs::exists(folder.path() / "backups/attachments" / photo.id));
    CHECK(read_backup_index(folder.path() / "backups").value().erased == std::vector{customer});
    CHECK(made(journal, "2027-03-02").line.is_good());
}

TEST_CASE("what was erased while the backup folder was away goes with the next backup") {
    const Folder folder, stick;
    Opening with_stick = opening(folder);
    with_stick.backups = stick.path() / "wm";
    Journal journal = Journal::open_to_write(with_stick).value();
    const std::string customer = journal.new_customer().value();
    wm::record::ReadingTaken taken = reading("a", "1");
    taken.photos = {journal.keep(customer, "a roof", "image/jpeg", "").value()};
    REQUIRE(journal.append(intent(customer, {{"J-1", opened(customer)}, {"J-1", taken}})));
    made(journal, "2027-03-01");
    fs::rename(stick.path() / "wm", stick.path() / "away");
    REQUIRE(journal.erase_customer(customer, some_time));
    fs::rename(stick.path() / "away", stick.path() / "wm");
    CHECK(fs::exists(stick.path() / "wm/attachments" / taken.photos.front().id));
    made(journal, "2027-03-02");
    CHECK_FALSE(fs::exists(stick.path() / "wm/attachments" / taken.photos.front().id));
    CHECK(bytes_of(stick.path() / "wm/keys/customers.box") == bytes_of(folder.path() / "keys/customers.box"));
}

TEST_CASE("the backups of another data folder are left alone") {
    const Folder one, other, shared;
    for (const fs::path& data : {one.path(), other.path()}) {
        Opening there = opening(data, data.string());
        there.backups = shared.path();
        Journal journal = Journal::open_to_write(there).value();
        REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}})));
        const auto done = make_backup(journal, on("2027-03-02"), counted_bytes("z"));
        CHECK(done.has_value() == (data == one.path()));
        if (!done) CHECK(done.error().what == "This folder holds the backups of another data folder.");
    }
}

TEST_CASE("the tables are copied and verified before they are brought to another version") {
    const Folder folder;
    {
        Journal journal = writing(folder);
        REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}})));
    }
    {
        // As an older version would have left it: this program then brings it up.
        const auto database = Database::opened(folder.path() / "journal.db", "", OpenFor::Writing).value();
        REQUIRE(database.run("PRAGMA user_version = 0"));
    }
    const auto opened = Journal::open_to_write(opening(folder, "b"));
    const auto index = read_backup_index(folder.path() / "backups").value();
    REQUIRE(index.lines.size() == 1);
    CHECK(index.lines.front().name == "2027-03-02-before-version-" + std::to_string(schema_version));
    CHECK(index.lines.front().entries == 2);
    CHECK(index.lines.front().reasons == std::vector<std::string>{"Its tables are those of version 0."});
    Opening of_copy{.folder = folder.path(), .random = {}, .wall_ms = 0, .company = "", .vfs = ""};
    of_copy.file = folder.path() / "backups" / (index.lines.front().name + ".journal");
    CHECK(Journal::open_copy(of_copy, Keys::none()).value().verify_journal().value().is_genuine());
}
