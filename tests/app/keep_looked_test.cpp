// Looking again folds nothing anew, and a look neither waits for a writer nor fails for one.
#include "app/keep_looked.hpp"

#include <doctest/doctest.h>

#include "app/testing.hpp"

using namespace wm;
using namespace wm::app;
using wm::app::testing::Shell;

namespace {

World world_of(const Shell& shell) {
    const auto arguments = sort_arguments({"week", "--data", shell.data().string(), "--at", shell.at});
    REQUIRE(arguments);
    auto world = world_for(*arguments);
    REQUIRE(world);
    return std::move(*world);
}

void many_jobs(const World& world, int count) {
    auto desk = open_desk(world, desk::Access::Write, "", Daily::LeaveOut);
    REQUIRE(desk);
    const auto facts = demo::facts_text(demo::demo_house(), demo::demo_crews().front());
    for (int i = 0; i < count; ++i) {
        const auto job = desk->carry_out(desk::OpenJob{"commissioning", facts, "facts.toml", "", false});
        REQUIRE(job);
        desk::TakeReading reading;
        reading.job = *job;
        reading.check = "coll-tilt";
        reading.text = i % 4 == 0 ? "41°" : "35°";
        REQUIRE(desk->carry_out(reading));
    }
}

std::size_t folded(const World& world) {
    auto desk = open_desk(world, desk::Access::Read);
    REQUIRE(desk);
    const auto look = desk::past_readings(*desk);
    REQUIRE(look);
    return look->made_anew;
}

bool columns_kept(const World& world) {
    auto desk = open_desk(world, desk::Access::Read);
    REQUIRE(desk);
    return desk->journal().cache("week columns").has_value();
}

}  // namespace

TEST_CASE("after a look by command the next one finds what was counted") {
    Shell shell;
    const auto world = world_of(shell);
    many_jobs(world, 16);
    CHECK_FALSE(columns_kept(world));
    const auto first = shell.json({"week", "2026-W48"});
    CHECK(columns_kept(world));
    CHECK(shell.json({"week", "2026-W48"}) == first);
    const auto list = (world.share / "checklists/commissioning.toml").string();
    CHECK(folded(world) == 16);
    const auto replayed = shell.json({"replay", list});
    CHECK(folded(world) == 0);
    CHECK(shell.json({"replay", list}) == replayed);
    shell.run({"enter", shell.open_job(), "coll-tilt", "41°"});
    CHECK(folded(world) == 1);
    CHECK(shell.json({"week", "2026-W48"})["jobs"] == 17);
}

TEST_CASE("while another program writes a look keeps nothing, says nothing and shows the same") {
    Shell shell;
    const auto world = world_of(shell);
    many_jobs(world, 16);
    auto writer = open_desk(world, desk::Access::Write);
    REQUIRE(writer);
    const auto seen = shell.run({"week", "2026-W48", "--json"});
    CHECK(seen.code == 0);
    CHECK(seen.talk.empty());
    CHECK_FALSE(columns_kept(world));
}
