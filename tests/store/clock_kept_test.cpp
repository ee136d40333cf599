// The journal and a clock that is moved about.
#include <doctest/doctest.h>

#include <memory>
#include <random>

#include "record/state.hpp"
#include "store/journal.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;
using wm::record::ClockJumped;
using wm::record::SinceBoot;

namespace {

constexpr std::int64_t minute_ms = 60'000;

/// The machine below a journal.
struct Machine {
    std::int64_t wall_ms = some_time;
    SinceBoot count{"boot-1", 1'000};

    void pass(std::int64_t ms) {
        wall_ms += ms;
        count.ms += ms;
    }
    void restart() { count = {count.boot + "1", 2'000}; }
};

Journal on(const Folder& folder, const Machine& machine) {
    auto how = opening(folder);
    how.since_boot = [&machine] { return std::optional{machine.count}; };
    return Journal::open_to_write(std::move(how)).value();
}

std::vector<ClockJumped> jumps_in(const Journal& journal) {
    std::vector<ClockJumped> jumps;
    const auto all = journal.read_all().value();
    for (const auto& [entry, hash] : all.entries)
        if (const auto* jump = std::get_if<ClockJumped>(&entry.body)) jumps.push_back(*jump);
    return jumps;
}

void write_into(Journal& journal, const Machine& machine) {
    const auto written = journal.append(intent("", {{"J-1", reading("coll-tilt", "35")}}, machine.wall_ms));
    REQUIRE(written);
    CHECK(written->size() == 1);  // the jump is not among the result
    CHECK(written->front().entry.job == "J-1");
}

}  // namespace

TEST_CASE("a clock that was moved is told before the next entry, once, and by the next program as well") {
    const Folder folder;
    Machine machine;
    {
        Journal journal = on(folder, machine);
        write_into(journal, machine);
        machine.pass(3 * minute_ms);
        write_into(journal, machine);
        CHECK(jumps_in(journal).empty());
        machine.wall_ms -= 20 * minute_ms;
        machine.pass(minute_ms);
    }
    Journal journal = on(folder, machine);
    write_into(journal, machine);
    write_into(journal, machine);
    REQUIRE(jumps_in(journal).size() == 1);
    CHECK(jumps_in(journal).front().by_ms == -20 * minute_ms);
    CHECK(jumps_in(journal).front().seen == "within a boot");
    const auto chain = journal.read_chain(journal.device(), 1).value().entries;
    REQUIRE(chain.size() == 6);
    CHECK(std::holds_alternative<ClockJumped>(chain[3].entry.body));
    CHECK(chain[4].entry.job == "J-1");
    CHECK(journal.verify_journal().value().is_genuine());
}

TEST_CASE("an erasure after a moved clock tells the jump as well") {
    const Folder folder;
    Machine machine;
    Journal journal = on(folder, machine);
    const std::string customer = journal.new_customer().value();
    write_into(journal, machine);
    machine.wall_ms += 90 * minute_ms;
    REQUIRE(journal.erase_customer(customer, machine.wall_ms));
    CHECK(jumps_in(journal).size() == 1);
}

TEST_CASE("a clock set back while the machine was off is told, also where the last entries ran ahead of it") {
    const Folder folder;
    Machine machine;
    {
        Journal journal = on(folder, machine);
        write_into(journal, machine);
        machine.wall_ms -= 10 * 60 * minute_ms;
        write_into(journal, machine);  // told
        machine.pass(5 * 60 * minute_ms);
        write_into(journal, machine);  // its stamp is still that of the first entry and a counter
        machine.restart();
        machine.wall_ms -= 60 * minute_ms;
    }
    Journal journal = on(folder, machine);
    write_into(journal, machine);
    REQUIRE(jumps_in(journal).size() == 2);
    CHECK(jumps_in(journal)[1].seen == "across a restart");
    CHECK(jumps_in(journal)[1].by_ms == -60 * minute_ms);
}

TEST_CASE("a clock that only went on while the machine was off is no jump") {
    const Folder folder;
    Machine machine;
    {
        Journal journal = on(folder, machine);
        write_into(journal, machine);
        machine.restart();
        machine.wall_ms += 30LL * 24 * 60 * minute_ms;
    }
    Journal journal = on(folder, machine);
    write_into(journal, machine);
    CHECK(jumps_in(journal).empty());
}

TEST_CASE("without the kept clocks a clock that went back is still told by the journal itself") {
    for (const char* bytes : {"", "boot-1 1000 99", "nonsense\n"}) {
        const Folder folder;
        Machine machine;
        {
            Journal journal = on(folder, machine);
            write_into(journal, machine);
        }
        const auto file = folder.path() / "clock.txt";
        REQUIRE(std::filesystem::remove(file));
        if (*bytes != '\0') set_bytes(file, bytes);
        machine.wall_ms -= 60 * minute_ms;
        Journal journal = on(folder, machine);
        write_into(journal, machine);
        CHECK(jumps_in(journal).size() == 1);
    }
}

TEST_CASE("where nothing counts since the start, nothing is watched and nothing kept") {
    const Folder folder;
    Journal journal = writing(folder);
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}})));
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", "2")}}, some_time - 90 * minute_ms)));
    CHECK(jumps_in(journal).empty());
    CHECK_FALSE(std::filesystem::exists(folder.path() / "clock.txt"));
}

TEST_CASE("in random walks through a journal that is opened and closed, every jump is told and the chain holds") {
    std::mt19937 random{7};
    int told = 0;
    for (int walk = 0; walk < 6; ++walk) {
        const Folder folder;
        Machine machine;
        int expected = 0;
        bool first = true;
        for (int step = 0; step < 12; ++step) {
            machine.pass(static_cast<std::int64_t>(random() % 600) * 1000);
            const bool moves = random() % 3 == 0;
            if (moves) {
                const auto by = static_cast<std::int64_t>(random() % 3'000'000) + 130'000;
                machine.wall_ms += random() % 2 == 0 ? by : -by;
                expected += first ? 0 : 1;
            }
            first = false;
            Journal journal = on(folder, machine);
            write_into(journal, machine);
            CHECK(jumps_in(journal).size() == static_cast<std::size_t>(expected));
        }
        told += expected;
        Journal journal = on(folder, machine);
        CHECK(journal.verify_journal().value().is_genuine());
    }
    CHECK(told > 10);
}

TEST_CASE("a time given by hand is told where it begins and where the clock is read again, once each, and counted") {
    const Folder folder;
    const auto by = [&](wm::record::TimeSource source, const char* start = "a") {
        auto how = opening(folder, start);
        how.time_source = source;
        return Journal::open_to_write(std::move(how)).value();
    };
    const auto write = [](Journal& journal, std::int64_t at) {
        const auto written = journal.append(intent("", {{"J-1", reading("coll-tilt", "35")}}, at));
        REQUIRE(written);
        CHECK(written->size() == 1);  // what was told is not among the result
    };
    const auto told = [](const Journal& journal) {
        std::vector<std::pair<std::int64_t, std::string>> at;
        const auto chain = journal.read_chain(journal.device(), 1).value().entries;
        for (const auto& [entry, hash] : chain)
            if (const auto* said = std::get_if<wm::record::TimeSourceChanged>(&entry.body)) at.emplace_back(entry.seq, said->to);
        return at;
    };
    {
        Journal journal = by(wm::record::TimeSource::Clock);
        write(journal, some_time);
        CHECK(told(journal).empty());
        CHECK(journal.verify_journal()->by_hand == 0);
    }
    {
        Journal journal = by(wm::record::TimeSource::Hand);
        write(journal, some_time + minute_ms);
        write(journal, some_time + 2 * minute_ms);
        CHECK(journal.told_of_clocks() == 1);
    }
    {
        Journal journal = by(wm::record::TimeSource::Hand);
        write(journal, some_time + 3 * minute_ms);
        CHECK(journal.told_of_clocks() == 0);
    }
    std::optional<Journal> journal_by_clock = by(wm::record::TimeSource::Clock);
    Journal& journal = *journal_by_clock;
    write(journal, some_time + 4 * minute_ms);
    write(journal, some_time + 5 * minute_ms);
    CHECK(told(journal) == std::vector<std::pair<std::int64_t, std::string>>{{3, "given by hand"}, {7, "the clock"}});
    const auto report = journal.verify_journal().value();
    CHECK(report.is_genuine());
    CHECK(report.by_hand == 4);
    // The job is read with both.
    CHECK(wm::record::folded("J-1", journal.read_job("J-1").value().entries).by_hand.size() == 3);
    // A new device of the folder says it anew.
    journal_by_clock.reset();
    Journal again = by(wm::record::TimeSource::Hand, "n");
    write(again, some_time + 6 * minute_ms);
    REQUIRE(again.become_new_device(some_time + 7 * minute_ms));
    CHECK(told(again).empty());
    write(again, some_time + 8 * minute_ms);
    CHECK(told(again) == std::vector<std::pair<std::int64_t, std::string>>{{2, "given by hand"}});
}

TEST_CASE("an erasure, and a journal that begins by a bundle, say that their time was given by hand") {
    const Folder ours, theirs;
    Journal maker = writing(theirs, "b");
    REQUIRE(maker.append(intent("", {{"J-1", reading("coll-tilt", "35")}}, some_time)));
    auto how = opening(ours);
    how.time_source = wm::record::TimeSource::Hand;
    Journal journal = Journal::open_to_write(std::move(how)).value();
    REQUIRE(journal.merge({maker.read_all()->entries, maker.signed_heads().value(), {}, {}, {}}, some_time));
    const auto chain = journal.read_chain(journal.device(), 1).value().entries;
    REQUIRE(chain.size() == 3);
    CHECK(std::holds_alternative<wm::record::TimeSourceChanged>(chain[1].entry.body));
    CHECK(std::holds_alternative<wm::record::Received>(chain[2].entry.body));

    const Folder third;
    auto again = opening(third, "c");
    again.time_source = wm::record::TimeSource::Hand;
    Journal erasing = Journal::open_to_write(std::move(again)).value();
    const auto customer = erasing.new_customer().value();
    REQUIRE(erasing.erase_customer(customer, some_time));
    CHECK(std::holds_alternative<wm::record::TimeSourceChanged>(erasing.read_chain(erasing.device(), 1)->entries.at(1).entry.body));
}
