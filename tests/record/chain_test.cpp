#include "record/chain.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "digest/hash.hpp"
#include "record/testing.hpp"

using namespace wm::record;
using namespace wm::record::testing;

namespace {

Device busy_device(char name) {
    Device device{name};
    for (int i = 0; i < 5; ++i)
        device.write("J-1", reading("c" + std::to_string(i), "", Outcome::Conforms));
    return device;
}

}  // namespace

TEST_CASE("a chain that was written is sound and ends at its head") {
    const Device device = busy_device('a');
    const ChainReport report = verify_chains(device.all());
    CHECK(report.is_sound());
    CHECK(report.entries == 6);
    CHECK(report.heads == std::vector<Head>{device.head()});
    CHECK(heads_of(device.all()) == report.heads);
}

TEST_CASE("the order in which entries arrive makes no difference to a chain") {
    const Device device = busy_device('a');
    std::vector<Written> entries = device.all();
    std::reverse(entries.begin(), entries.end());
    entries.push_back(entries.front());
    CHECK(verify_chains(entries).heads == std::vector<Head>{device.head()});
    CHECK(verify_chains(entries).entries == 6);
}

TEST_CASE("a changed entry is named by device and sequence") {
    const Device device = busy_device('a');
    std::vector<Written> entries = device.all();
    std::get<ReadingTaken>(entries[3].entry.body).text = "99 N·m";
    const ChainReport report = verify_chains(entries);
    REQUIRE(report.broken.size() == 2);
    CHECK(report.broken[0] ==
          "Device " + device.head().device + ": entry 4 is not what its hash was made of.");
    CHECK(report.broken[1] ==
          "Device " + device.head().device + ": entry 5 continues an entry that is not here.");
    CHECK(report.heads.front().seq == 3);
}

TEST_CASE("a missing stretch is found once and what follows it is not trusted") {
    const Device device = busy_device('a');
    std::vector<Written> entries = device.all();
    entries.erase(entries.begin() + 2, entries.begin() + 4);
    const ChainReport report = verify_chains(entries);
    CHECK(report.broken ==
          std::vector<std::string>{"Device " + device.head().device +
                                   ": entry 5 continues an entry that is not here."});
    CHECK(report.heads.front().seq == 2);
}

TEST_CASE("a chain begins with the start of its own device") {
    Device device{'a'};
    const Head nothing{device.head().device, 0, ""};
    const std::string key = wm::digest::to_hex(device.key().public_key);
    const std::string time = "2027-01-15T08:00:00.000Z.0000";
    const auto first = [&](Body body) {
        return chained(nothing, time, {{"", std::move(body)}}).value();
    };
    CHECK(verify_chains(first(DeviceStarted{device.head().device, "", key, "", ""})).is_sound());
    CHECK_FALSE(verify_chains(first(NoteMade{committed("n"), "", ""})).is_sound());
    CHECK_FALSE(verify_chains(first(DeviceStarted{"other", "", key, "", ""})).is_sound());
    CHECK_FALSE(
        verify_chains(first(DeviceStarted{device.head().device, "", std::string(64, '1'), "", ""}))
            .is_sound());
}

TEST_CASE("time never runs backwards along a chain") {
    const Device device = busy_device('a');
    std::vector<Written> entries = device.all();
    const auto late =
        chained(device.head(), "2001-01-01T00:00:00.000Z.0000", {{"J-1", Undone{"h", ""}}}).value();
    entries.push_back(late.front());
    CHECK_FALSE(verify_chains(entries).is_sound());
}

TEST_CASE("two entries with one number are a fork and both ends are heads") {
    Device one = busy_device('a');
    Device copy = one;
    one.write("J-1", Undone{"x", "P-01"});
    copy.write("J-1", Undone{"y", "P-01"});
    const ChainReport report = verify_chains(together(one.all(), copy.all()));
    REQUIRE(report.forks.size() == 1);
    CHECK(report.forks.front().seq == 7);
    CHECK(report.forks.front().hashes.size() == 2);
    CHECK(report.heads.size() == 2);
    CHECK(report.broken.empty());
    CHECK_FALSE(report.is_sound());
}

TEST_CASE("drafts are chained in sequence with rising stamps") {
    const Device device{'a'};
    const auto written = chained(device.head(), "2027-01-15T08:00:00.123Z.0004",
                                 {{"J-1", Undone{"a", ""}}, {"J-1", Undone{"b", ""}}})
                             .value();
    REQUIRE(written.size() == 2);
    CHECK(written[0].entry.prev == device.head().hash);
    CHECK(written[1].entry.prev == written[0].hash);
    CHECK(written[1].entry.seq == 3);
    CHECK(written[1].entry.time == "2027-01-15T08:00:00.123Z.0005");
    CHECK_FALSE(chained(device.head(), "today", {}));
}

TEST_CASE("chains are merged by time, and every order of arrival gives the same order of reading") {
    Device a{'a'};
    Device b{'b'};
    for (int i = 0; i < 4; ++i) {
        a.write("J-1", Undone{"a" + std::to_string(i), ""});
        b.write("J-1", Undone{"b" + std::to_string(i), ""});
    }
    std::vector<Written> entries = together(a.all(), b.all());
    const std::vector<Written> ordered = in_order(entries);
    for (std::size_t i = 1; i < ordered.size(); ++i) {
        CHECK(std::pair{ordered[i - 1].entry.time, ordered[i - 1].entry.device} <
              std::pair{ordered[i].entry.time, ordered[i].entry.device});
    }
    std::sort(entries.begin(), entries.end(),
              [](const Written& x, const Written& y) { return x.hash < y.hash; });
    do {
        CHECK(in_order(entries) == ordered);
    } while (
        std::next_permutation(entries.begin(), entries.begin() + 4,
                              [](const Written& x, const Written& y) { return x.hash < y.hash; }));
    std::vector<Written> twice = together(entries, entries);
    CHECK(in_order(twice) == ordered);
}

TEST_CASE("an entry is never read before one that its writer had seen, whatever the clocks say") {
    Device ahead{'a', 1'900'000'000'000};
    Device behind{'b', 1'800'000'000'000};
    ahead.write("J-1", Undone{"first", ""});
    behind.receive(ahead);
    behind.write("J-1", Undone{"second", ""});
    std::vector<std::string> said;
    for (const Written& written : in_order(together(behind.all(), ahead.all()))) {
        if (const auto* undo = std::get_if<Undone>(&written.entry.body))
            said.push_back(undo->entry);
    }
    CHECK(said == std::vector<std::string>{"first", "second"});
}

TEST_CASE("entries that claim to have seen each other are still all read") {
    Device a{'a'};
    Device b{'b'};
    a.write("", Received{{{b.head().device, 99, "h"}}});
    b.write("", Received{{{a.head().device, 99, "h"}}});
    CHECK(in_order(together(a.all(), b.all())).size() == 4);
}

TEST_CASE("a signed head is genuine for its device and hash only") {
    const Device device = busy_device('a');
    SignedHead head = signed_head(device.head(), device.key());
    CHECK(is_genuine(head));
    SignedHead moved = head;
    moved.head.seq = 5;
    CHECK_FALSE(is_genuine(moved));
    const Device other{'b'};
    CHECK_FALSE(is_genuine({device.head(), other.key().public_key,
                            wm::digest::sign(other.key(), head_claim(device.head()))}));
}

TEST_CASE("a chain file has the hash and the hashed line of each entry") {
    const Device device = busy_device('a');
    const std::string file = chain_file(device.all()).value();
    std::size_t rows = 0;
    for (std::size_t at = 0; at < file.size(); ++rows) {
        const std::size_t end = file.find('\n', at);
        const std::string row = file.substr(at, end - at);
        CHECK(wm::digest::sha256_hex(row.substr(66)) == row.substr(0, 64));
        CHECK(row.substr(64, 2) == "  ");
        at = end + 1;
    }
    CHECK(rows == 6);
}
