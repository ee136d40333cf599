#include "store/rows.hpp"

#include <doctest/doctest.h>

#include "digest/hash.hpp"
#include "record/codec.hpp"
#include "store/testing.hpp"

using namespace wm;
using namespace wm::store;

namespace {

/// A device's start and two notes of one job, chained.
std::vector<record::Written> chain() {
    const auto key = digest::device_key(std::string(32, 'k')).value();
    const std::string device = digest::device_id(key.public_key);
    return record::chained({device, 0, record::no_hash()}, record::text_of(record::Stamp{testing::some_time, 0}),
                           {{"", record::DeviceStarted{device, "", digest::to_hex(key.public_key), "", ""}},
                            {"J-1", testing::reading("coll-tilt", "35 °")},
                            {"J-1", testing::reading("coll-tilt", "36 °")}})
        .value();
}

KnownEntries keeping(const std::vector<record::Written>& kept) {
    return {.time_of = [&kept](const record::Head& entry) -> Result<std::optional<std::string>> {
                for (const auto& written : kept)
                    if (written.entry.device == entry.device && written.entry.seq == entry.seq && written.hash == entry.hash) return written.entry.time;
                return std::nullopt;
            },
            .last_before = [&kept](const std::string&, std::int64_t seq) -> Result<std::int64_t> {
                std::int64_t last = 0;
                for (const auto& written : kept)
                    if (written.entry.seq < seq) last = std::max(last, written.entry.seq);
                return last;
            }};
}

}  // namespace

TEST_CASE("what continues what is kept is new, and what is kept is known") {
    const auto all = chain();
    const std::vector<record::Written> kept{all[0]};
    const auto known = keeping(kept);
    auto turned = std::vector{all[2], all[0], all[1], all[1]};
    const auto join = joined(turned, known).value();
    CHECK(join.known == 1);
    REQUIRE(join.fresh.size() == 2);
    CHECK(join.fresh[0].hash == all[1].hash);
    CHECK(join.fresh[1].hash == all[2].hash);
}

TEST_CASE("a stretch that is missing is named from the last that is kept") {
    const auto all = chain();
    const auto refused_whole = [&](const std::vector<record::Written>& kept, std::vector<record::Written> brought) {
        const auto join = joined(std::move(brought), keeping(kept));
        REQUIRE_FALSE(join);
        CHECK(join.error().kind == ProblemKind::Refused);
        CHECK(join.error().where == "bundle");
        return join.error().what;
    };
    const std::string& device = all[0].entry.device;
    CHECK(refused_whole({}, {all[2]}) == "Entries 1 to 2 of device " + device + " are missing.");
    CHECK(refused_whole({all[0]}, {all[2]}) == "Entries 2 to 2 of device " + device + " are missing.");
    CHECK(refused_whole({}, {all[1], all[2]}) == "Entries 1 to 1 of device " + device + " are missing.");
}

TEST_CASE("a stored row of which any field was altered is not what its hash was made of") {
    const auto all = chain();
    const auto& [entry, hash] = all[1];
    const std::string body = record::body_text(entry.body).value();
    const record::Entry row{entry.device, entry.seq, entry.prev, entry.time, entry.job, {}};
    REQUIRE(checked_row(row, hash, body));
    CHECK(checked_row(row, hash, body)->entry.body == entry.body);
    record::Entry other = row;
    other.job = "J-2";
    CHECK_FALSE(checked_row(other, hash, body));
    other = row;
    other.time = all[2].entry.time;
    CHECK_FALSE(checked_row(other, hash, body));
    const auto altered = checked_row(row, hash, body + " ");
    REQUIRE_FALSE(altered);
    CHECK(altered.error().where == "device " + entry.device + ", entry 2");
}
