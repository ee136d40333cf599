// A log that changed on the disk, as a loss of power leaves it: what was saved is never gone in silence.
#include <doctest/doctest.h>

#include <string>
#include <variant>

#include "store/files.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;
using wm::record::EntriesLost;
namespace fs = std::filesystem;

namespace {

constexpr int readings = 6;

/// A folder whose readings stand in the log only, as when the power goes.
struct Interrupted {
    Folder folder, kept;
    std::string device, log;
    std::int64_t last = 0;

    Interrupted() {
        Journal journal = writing(folder);
        const std::string customer = journal.new_customer().value();
        REQUIRE(journal.append(intent(customer, {{"J-1", opened(customer)}})));
        for (int i = 0; i < readings; ++i)
            REQUIRE(journal.append(intent(customer, {{"J-1", reading("a", std::to_string(i))}}, some_time + 40'000 * (i + 1))));
        device = journal.device();
        last = journal.head().seq;
        for (const auto& each : fs::directory_iterator{folder.path()}) {
            const auto name = each.path().filename();
            if (name != "journal.db-shm" && name != "writer.lock") fs::copy(each.path(), kept.path() / name, fs::copy_options::recursive);
        }
        log = bytes_of(kept.path() / "journal.db-wal");
        REQUIRE(log.size() > 10000);
    }

    void put_into(const fs::path& to, const std::string& with) const {
        fs::remove_all(to);
        fs::copy(kept.path(), to, fs::copy_options::recursive);
        set_bytes(to / "journal.db-wal", with);
    }
};

std::size_t readings_in(const Journal& journal) {
    const auto read = journal.read_job("J-1");
    if (!read) return 0;
    std::size_t count = 0;
    for (const auto& written : read->entries) count += std::holds_alternative<wm::record::ReadingTaken>(written.entry.body) ? 1 : 0;
    return count;
}

wm::Result<Journal> reopened(const fs::path& folder) {
    auto again = opening(folder, "b");
    again.wall_ms = some_time + 1'000'000;
    return Journal::open_to_write(again);
}

}  // namespace

TEST_CASE("a bit of the log that changed takes no saved reading away in silence, and a new device goes on") {
    const Interrupted before;
    Folder scratch;
    const fs::path to = scratch.path() / "data";
    before.put_into(to, before.log);
    {
        const auto whole = reopened(to);
        REQUIRE(whole);
        CHECK(readings_in(*whole) == readings);
        CHECK_FALSE(whole->lost_at_opening());
        CHECK(whole->device() == before.device);
    }
    int lost = 0;
    for (std::size_t at = 0; at < before.log.size(); at += before.log.size() / 97) {
        CAPTURE(at);
        auto log = before.log;
        log[at] = static_cast<char>(static_cast<unsigned char>(log[at]) ^ 1U);
        before.put_into(to, log);
        // Who only looks hears of it too.
        if (const auto looked_at = Journal::open_to_read(opening(to))) {
            const bool all_there = readings_in(*looked_at) == readings;
            CHECK(looked_at->lost_at_opening().has_value() != all_there);
            const auto report = looked_at->verify_journal();
            REQUIRE(report);
            CHECK((all_there || !report->is_genuine()));
        }
        before.put_into(to, log);
        auto journal = reopened(to);
        if (!journal) continue;  // it was told
        if (readings_in(*journal) == readings && !journal->lost_at_opening()) continue;
        ++lost;
        REQUIRE(journal->lost_at_opening());
        const EntriesLost told = *journal->lost_at_opening();
        CHECK(told.device == before.device);
        CHECK(told.to == before.last);
        CHECK(told.from >= 1);
        CHECK(journal->device() != before.device);
        CHECK(bytes_of(to / "set-aside" / ("log-" + before.device.substr(0, 8) + "-" + std::to_string(before.last)) / "journal.db-wal") == log);
        // It stays told, and work goes on.
        const auto report = journal->verify_journal();
        REQUIRE(report);
        CHECK_FALSE(report->is_genuine());
        REQUIRE(journal->append(intent("", {{"J-1", reading("a", "again")}}, some_time + 2'000'000)));
    }
    CHECK(lost > 20);
}

TEST_CASE("a log that is cut off, or gone, is told as well") {
    const Interrupted before;
    Folder scratch;
    const fs::path to = scratch.path() / "data";
    for (const std::size_t left : {std::size_t{0}, before.log.size() / 3, before.log.size() - 4096}) {
        CAPTURE(left);
        before.put_into(to, before.log.substr(0, left));
        const auto journal = reopened(to);
        REQUIRE(journal);
        REQUIRE(journal->lost_at_opening());
        CHECK(journal->lost_at_opening()->to == before.last);
    }
}

TEST_CASE("a kept head that is older, torn, of another device or no text at all says nothing") {
    const Interrupted before;
    Folder scratch;
    const fs::path to = scratch.path() / "data";
    const std::string kept = bytes_of(before.kept.path() / "head.txt");
    REQUIRE(kept.find(' ' + std::to_string(before.last) + ' ') != std::string::npos);
    auto larger = kept;
    larger.replace(larger.find(' ' + std::to_string(before.last) + ' '), 2, " 9");
    for (const std::string& text : {std::string{}, kept.substr(0, kept.size() / 2), kept.substr(0, kept.size() - 1), larger, "x" + kept, std::string(300, '\0')}) {
        CAPTURE(text);
        before.put_into(to, before.log);
        set_bytes(to / "head.txt", text);
        const auto journal = reopened(to);
        REQUIRE(journal);
        CHECK_FALSE(journal->lost_at_opening());
        CHECK(journal->device() == before.device);
    }
}
