#include "app/world.hpp"

#include "app/testing.hpp"

namespace wm::app {

using testing::Shell;

TEST_CASE("a fixed clock stands still, and a time that is none is wrong use") {
    Arguments arguments;
    arguments.options.emplace("at", "2027-03-04T09:10:00+02:00");
    const auto world = world_for(arguments);
    REQUIRE(world);
    CHECK(desk::text_of(world->now()) == "2027-03-04T09:10:00+02:00");
    CHECK(world->now().wall_ms == world->now().wall_ms);
    arguments.options.clear();
    arguments.options.emplace("at", "tomorrow");
    const auto wrong = world_for(arguments);
    REQUIRE_FALSE(wrong);
    CHECK(wrong.error().kind == ProblemKind::WrongUse);
}

TEST_CASE("seeded bytes repeat for a seed and differ between seeds") {
    auto one = seeded_random("a");
    auto two = seeded_random("a");
    auto other = seeded_random("b");
    const auto first = one(40);
    CHECK(first.size() == 40);
    CHECK(first == two(40));
    CHECK(first != other(40));
    CHECK(first != one(40));
}

TEST_CASE("a written file is whole, and no half file is left beside it") {
    Shell shell;
    const auto file = shell.folder() / "new/deep/report.pdf";
    REQUIRE(write_file(file, std::string(100'000, 'x')));
    CHECK(read_file(file)->size() == 100'000);
    REQUIRE(write_file(file, "y"));
    CHECK(*read_file(file) == "y");
    CHECK_FALSE(std::filesystem::exists(file.string() + ".new"));
    CHECK_FALSE(read_file(shell.folder() / "missing"));
    CHECK_FALSE(read_file(shell.folder()));
    const auto blocked = write_file(file / "below-a-file", "z");
    REQUIRE_FALSE(blocked);
    CHECK(blocked.error().kind == ProblemKind::NotStored);
}

TEST_CASE("settings are taken over the defaults, broken ones are refused with their line") {
    Shell shell;
    World world;
    world.now = [] { return desk::Moment{}; };
    world.random = seeded_random("x");
    world.data = shell.folder();
    world.share = WM_SOURCE_DIR;
    CHECK(setup_for(world, desk::Access::Write)->company == "Witnessmark");
    shell.write("settings.toml", "[company]\nname = \"Lanternfold\"\ncontact = \"555\"\n[mail]\nfrom = \"a@example.org\"\n");
    const auto setup = setup_for(world, desk::Access::Write);
    REQUIRE(setup);
    CHECK(setup->company == "Lanternfold");
    CHECK(setup->mail_from == "a@example.org");
    shell.write("settings.toml", "[company]\nname = \n");
    const auto broken = setup_for(world, desk::Access::Write);
    REQUIRE_FALSE(broken);
    CHECK(broken.error().where.find("settings.toml:2:") != std::string::npos);
    world.share = shell.folder();
    CHECK_FALSE(library_texts(world));
}

}  // namespace wm::app
