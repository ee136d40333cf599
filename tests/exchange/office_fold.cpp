// Random histories of several tablets, taken into a data folder (SQLite) and into the office's record (PostgreSQL), each in
// an order of its own: both must fold every job to the same. tests/whole/office_check.py starts the server and this.
//
// WM_OFFICE_CONNECT names a database that may be emptied. WM_OFFICE_HISTORIES: how many, 100 if it is not set.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <random>
#include <string_view>

#include "audit/results.hpp"
#include "digest/hash.hpp"
#include "exchange/archive.hpp"
#include "exchange/contents.hpp"
#include "exchange/office_connection.hpp"
#include "exchange/office_store.hpp"
#include "record/clock.hpp"
#include "record/state.hpp"
#include "store/testing.hpp"

using namespace wm;

namespace {

using exchange::Contents;
using record::Written;
using store::testing::some_time;
using Dice = std::mt19937_64;

std::size_t below(Dice& dice, std::size_t end) { return std::uniform_int_distribution<std::size_t>{0, end - 1}(dice); }

std::string environment(const char* name) {
    const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): one thread
    return value == nullptr ? "" : value;
}

struct Tablet {
    digest::DeviceKey key;
    std::string device;
    std::vector<Written> chain;
    record::Stamp clock;
    std::vector<std::size_t> seen;  ///< how much of each tablet's chain it has; of its own all

    [[nodiscard]] record::Head head(std::size_t length) const {
        if (length == 0) return {device, 0, record::no_hash()};
        return {device, chain[length - 1].entry.seq, chain[length - 1].hash};
    }
    void write(std::string job, record::Body body, std::int64_t wall_ms) {
        clock = record::next_stamp(clock, wall_ms);
        auto written = record::chained(head(chain.size()), record::text_of(clock), {{std::move(job), std::move(body)}});
        REQUIRE(written);
        chain.push_back(std::move(written->front()));
    }
};

Tablet tablet(const std::string& seed, std::size_t count) {
    Tablet made{.key = digest::device_key(digest::sha256(seed)).value(), .device = {}, .chain = {}, .clock = {}, .seen = std::vector<std::size_t>(count, 0)};
    made.device = digest::device_id(made.key.public_key);
    made.write("", record::DeviceStarted{made.device, "", digest::to_hex(made.key.public_key), "", ""}, some_time);
    return made;
}

class History {
public:
    History(std::uint64_t seed, Dice& dice) : dice_{dice}, seed_{seed} {
        const std::size_t count = 2 + below(dice_, 3);
        for (std::size_t i = 0; i < count; ++i) tablets_.push_back(tablet(fmt::format("{} {}", seed, i), count));
        // Numbers that a language sorts otherwise than their bytes.
        for (const char* name : {"J-{}-a", "J-{}-B", "J-{}-É", "j-{}_c"}) jobs_.push_back(fmt::format(fmt::runtime(name), seed));
        const std::size_t steps = 10 + below(dice_, 30);
        for (std::size_t step = 0; step < steps; ++step) take_step();
        for (std::size_t i = 0; i < tablets_.size(); ++i) bundles_.push_back(bundle_of(i, 0));
    }

    [[nodiscard]] const std::vector<std::string>& bundles() const { return bundles_; }
    [[nodiscard]] const std::vector<std::string>& jobs() const { return jobs_; }

private:
    void take_step() {
        const std::size_t who = below(dice_, tablets_.size());
        wall_ms_ += static_cast<std::int64_t>(below(dice_, 100'000'000));
        const auto skewed = wall_ms_ - static_cast<std::int64_t>(below(dice_, 600'000));
        const std::string job = jobs_[below(dice_, jobs_.size())];
        switch (below(dice_, 12)) {
            case 0: return receive(who, skewed);
            case 1: bundles_.push_back(bundle_of(who, below(dice_, tablets_[who].chain.size()))); return;
            case 2: return fork(who);
            case 3: {
                record::JobOpened opened;
                opened.number = job;
                opened.customer = fmt::format("customer {}", below(dice_, 3));
                return tablets_[who].write(job, opened, skewed);
            }
            case 4: return tablets_[who].write("", record::CustomerErased{fmt::format("customer {}", below(dice_, 3))}, skewed);
            default: {
                auto reading = store::testing::reading(fmt::format("check-{}", below(dice_, 4)), fmt::format("{} °C", below(dice_, 90)));
                if (below(dice_, 3) == 0) reading.judged.outcome = reading.judged.place_outcome = measure::Outcome::DoesNotConform;
                return tablets_[who].write(job, reading, skewed);
            }
        }
    }

    /// What another has seen comes along, as when a bundle is taken in.
    void receive(std::size_t who, std::int64_t wall_ms) {
        const std::size_t other = below(dice_, tablets_.size());
        if (other == who) return;
        Tablet& ours = tablets_[who];
        record::Received received;
        for (std::size_t i = 0; i < tablets_.size(); ++i) {
            if (i == who) continue;
            const std::size_t theirs = i == other ? tablets_[i].chain.size() : tablets_[other].seen[i];
            ours.seen[i] = std::max(ours.seen[i], theirs);
            if (ours.seen[i] > 0 && tablets_[i].device != ours.device) received.heads.push_back(tablets_[i].head(ours.seen[i]));
        }
        ours.write("", received, wall_ms);
    }

    /// The folder was copied: another writes on under the same key.
    void fork(std::size_t who) {
        if (tablets_.size() > 5) return;
        for (Tablet& each : tablets_) each.seen.push_back(0);
        tablets_.push_back(tablets_[who]);
        tablets_.back().seen[who] = tablets_[who].chain.size();
    }

    std::string bundle_of(std::size_t who, std::size_t from) {
        Contents contents;
        contents.maker = tablets_[who].device;
        for (std::size_t i = 0; i < tablets_.size(); ++i) {
            const Tablet& each = tablets_[i];
            const std::size_t end = i == who ? each.chain.size() : tablets_[who].seen[i];
            if (end == 0) continue;
            // A copy has the same beginning; its bundle holds one chain of that name.
            if (i != who && each.device == contents.maker) continue;
            if (std::any_of(contents.heads.begin(), contents.heads.end(), [&](const auto& head) { return head.head.device == each.device; })) continue;
            const std::size_t begin = i == who ? std::min(from, end - 1) : 0;
            contents.entries.insert(contents.entries.end(), each.chain.begin() + static_cast<std::ptrdiff_t>(begin),
                                    each.chain.begin() + static_cast<std::ptrdiff_t>(end));
            contents.heads.push_back(record::signed_head(each.head(end), each.key));
        }
        return exchange::packed(exchange::parts_of(contents, tablets_[who].key).value()).value();
    }

    Dice& dice_;
    std::uint64_t seed_;
    std::int64_t wall_ms_ = some_time;
    std::vector<Tablet> tablets_;
    std::vector<std::string> jobs_, bundles_;
};

/// Every bundle, in an order of its own, some twice, until none is refused any more.
template <class Take>
void take_all(std::vector<std::string> bundles, Dice& dice, const Take& take) {
    std::shuffle(bundles.begin(), bundles.end(), dice);
    bundles.push_back(bundles.front());
    std::vector<std::string> waiting = bundles;
    for (std::size_t pass = 0; pass <= bundles.size() && !waiting.empty(); ++pass)
        std::erase_if(waiting, [&](const std::string& bundle) { return take(bundle); });
    REQUIRE(waiting.empty());
}

struct Folded {
    std::vector<std::string> hashes;  ///< of the job's own entries, in order
    audit::AuditTable rows;
    std::vector<std::string> conflicts;
    bool erased = false;
    friend bool operator==(const Folded&, const Folded&) = default;
};

Folded folded(const std::string& job, const store::Entries& entries) {
    Folded result;
    REQUIRE(entries.damaged.empty());
    for (const Written& written : entries.entries)
        if (written.entry.job == job) result.hashes.push_back(written.hash);
    const record::JobState state = record::folded(job, entries.entries);
    result.rows = audit::audit_table({&state, 1});
    for (const auto& [id, check] : state.checks)
        for (const auto& conflict : check.conflicts) result.conflicts.push_back(id + " " + conflict.place);
    result.erased = state.erased;
    return result;
}

void empty(exchange::Connection& server) {
    REQUIRE(server.run_all("TRUNCATE entry, personal, attachment, erased, head, pin, bundle, crew_device, crew_job"));
}

}  // namespace

TEST_CASE("PostgreSQL and SQLite fold random histories of several tablets to the same") {
    const std::string conninfo = environment("WM_OFFICE_CONNECT");
    REQUIRE_MESSAGE(!conninfo.empty(), "WM_OFFICE_CONNECT names no database");
    const std::string said = environment("WM_OFFICE_HISTORIES");
    const std::uint64_t count = said.empty() ? 100 : std::stoull(said);
    auto office = exchange::OfficeStore::opened(conninfo).value();
    auto server = exchange::Connection::opened(conninfo).value();
    const auto none = store::Keys::none();
    Dice dice{42};
    constexpr std::uint64_t together = 10;  // histories that lie in one store at a time
    std::size_t conflicts = 0, jobs = 0, refusals = 0, forked = 0;
    for (std::uint64_t first = 0; first < count; first += together) {
        const store::testing::Folder folder;
        store::Journal journal = store::testing::writing(folder, fmt::format("office {}", first));
        empty(server);
        std::map<std::string, Folded> from_sqlite;
        for (std::uint64_t seed = first; seed < std::min(count, first + together); ++seed) {
            CAPTURE(seed);
            const History history{seed, dice};
            take_all(history.bundles(), dice, [&](const std::string& bundle) {
                const auto taken = exchange::unpack(journal, bundle, {.name = "b", .passphrase = {}, .wall_ms = some_time});
                if (taken) forked += taken->forks.empty() ? 0 : 1;
                return taken.has_value();
            });
            take_all(history.bundles(), dice, [&](const std::string& bundle) {
                const auto taken = office.take(bundle, {.name = "b", .at = "now"});
                if (!taken) REQUIRE(taken.error().kind == ProblemKind::Refused);
                refusals += taken ? 0 : 1;
                return taken.has_value();
            });
            for (const std::string& job : history.jobs()) {
                const auto here = journal.read_job(job).value();
                if (std::none_of(here.entries.begin(), here.entries.end(), [&](const Written& w) { return w.entry.job == job; })) continue;
                from_sqlite.emplace(job, folded(job, here));
                CHECK(folded(job, office.read_job(job, none).value()) == from_sqlite.at(job));
                conflicts += from_sqlite.at(job).conflicts.size();
                ++jobs;
            }
        }
        std::vector<std::string> in_turn;
        const auto read = office.read_all(none, [&](const store::JobLine& line, store::Entries entries) -> Result<void> {
            in_turn.push_back(line.job);
            CHECK(from_sqlite.contains(line.job));
            // As SQLite has it now: a later history may have erased the customer of this job.
            CHECK(folded(line.job, entries) == folded(line.job, journal.read_job(line.job).value()));
            return {};
        });
        REQUIRE(read);
        CHECK(read->damaged == std::vector<std::string>{});
        CHECK(in_turn.size() == from_sqlite.size());
        CHECK(std::is_sorted(in_turn.begin(), in_turn.end()));
        auto heads = journal.heads().value();
        std::erase_if(heads, [&](const record::Head& head) { return head.device == journal.device(); });
        CHECK(office.heads().value() == heads);
    }
    empty(server);
    MESSAGE(count << " histories, " << jobs << " jobs, " << conflicts << " conflicts, " << refusals << " bundles that had to wait, " << forked << " with a fork");
    // Histories without these would prove little.
    if (count >= 100) {
        CHECK(conflicts > 0);
        CHECK(refusals > 0);
        CHECK(forked > 0);
    }
}
