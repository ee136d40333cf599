#include "desk/backup.hpp"

#include <doctest/doctest.h>

#include "desk/testing.hpp"
#include "exchange/bundle.hpp"
#include "store/restore.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

std::vector<std::string> names(const Desk& desk) {
    std::vector<std::string> all;
    const auto index = store::read_backup_index(desk.journal().backups()).value();
    for (const auto& line : index.lines) all.push_back(line.name);
    return all;
}

}  // namespace

TEST_CASE("one backup is made each day, before what is written on it, and none of an empty journal") {
    Bench bench{testing::house_facts(testing::tools()), "commissioning"};
    const auto first = back_up_if_due(bench.desk());
    REQUIRE(first);
    REQUIRE(first->has_value());
    const std::string monday = day_of(bench.desk().setup().now());
    CHECK((**first).line.name == monday);
    CHECK((**first).line.jobs == 1);
    CHECK_FALSE(back_up_if_due(bench.desk()).value());
    bench.enter("ladder-set", "70°");
    CHECK_FALSE(back_up_if_due(bench.desk()).value());
    bench.clock.pass_days(1);
    CHECK(backup_view(bench.desk()).value().is_due);
    const auto second = back_up_if_due(bench.desk()).value();
    REQUIRE(second);
    CHECK(second->line.entries > (**first).line.entries);
    CHECK(names(bench.desk()) == std::vector<std::string>{monday, day_of(bench.desk().setup().now())});
    const auto view = backup_view(bench.desk()).value();
    CHECK_FALSE(view.is_due);
    CHECK(view.is_beside_journal);
    CHECK(view.signing_keys == "not in it");
    CHECK(view.not_exchanged.not_confirmed == view.not_exchanged.entries);

    const testing::Folder empty;
    Setup setup = testing::setup_in(empty.path(), bench.clock);
    const auto nothing = Desk::open(setup);
    REQUIRE(nothing);
    CHECK_FALSE(back_up_if_due(*nothing).value());
    CHECK_FALSE(std::filesystem::exists(empty.path() / "backups"));
}

TEST_CASE("a tablet lost on Tuesday costs nothing that was exchanged on Monday") {
    const testing::Folder office_folder;
    Bench tablet{testing::house_facts(testing::tools()), "commissioning"};
    tablet.enter("ladder-set", "70°");
    const auto monday = exchange::pack(tablet.desk().journal(), {.since = {}, .passphrase = "six lanterns", .random = testing::seeded("m")});
    REQUIRE(monday);
    tablet.clock.pass_days(1);
    tablet.enter("ladder-set", "71°");  // Tuesday: lost with the tablet

    Setup setup = testing::setup_in(office_folder.path(), tablet.clock);
    setup.random = testing::seeded("office");
    auto office = Desk::open(setup);
    REQUIRE(office);
    REQUIRE(exchange::unpack(office->journal(), monday->bytes, {"monday", "six lanterns", *tablet.clock.wall_ms}));
    const auto view = office->job_view(tablet.job);
    REQUIRE(view);
    CHECK(office->journal().verify_journal().value().is_genuine());
    const auto readings_of = [&](Desk& desk) {
        std::vector<std::string> texts;
        const auto hand = desk.in_hand(tablet.job).value();
        for (const auto& reading : hand.state().checks.at("ladder-set").readings) texts.push_back(record::shown(reading.taken.text));
        return texts;
    };
    CHECK(readings_of(*office) == std::vector<std::string>{"70°"});
    CHECK(record::shown(*office->in_hand(tablet.job)->state().fact("customer.name")) == "Ansa Velmorrin");
    // Should the tablet be found again, its Tuesday joins, and nothing stands twice.
    const auto tuesday = exchange::pack(tablet.desk().journal(), {.since = {}, .passphrase = "six lanterns", .random = testing::seeded("t")});
    REQUIRE(tuesday);
    auto later = Desk::open([&] { office = tl::unexpected(Problem{}); return setup; }());
    REQUIRE(later);
    REQUIRE(exchange::unpack(later->journal(), tuesday->bytes, {"tuesday", "six lanterns", *tablet.clock.wall_ms}));
    CHECK(readings_of(*later) == std::vector<std::string>{"70°", "71°"});
}

}  // namespace wm::desk
