#include "store/people.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <thread>

#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;

namespace {

constexpr wm::digest::PinCost cheap{1, 8};
const std::string sealing_key(32, 'k');
const Person owner{"Ilka Marrowby", Role::Owner};
const Person installer{"Tindo Quellaby", Role::Installer};

People with_two(const Folder& folder) {
    auto people = People::read(folder).value();
    const auto random = counted_bytes("people");
    REQUIRE(people.put(owner, "482913", sealing_key, random, cheap));
    REQUIRE(people.put(installer, "775021", sealing_key, random, cheap));
    return people;
}

}  // namespace

TEST_CASE("the right PIN gives person and sealing key, also after reading again") {
    const Folder folder;
    with_two(folder);
    auto people = People::read(folder).value();
    CHECK(people.all() == std::vector<Person>{owner, installer});
    const auto in = people.unlocked("Tindo Quellaby", "775021", some_time);
    REQUIRE(in);
    CHECK(in->person == installer);
    CHECK(in->sealing_key == sealing_key);
    CHECK_FALSE(people.unlocked("Tindo Quellaby", "482913", some_time));
    CHECK_FALSE(people.unlocked("Nobody", "482913", some_time));
    CHECK_FALSE(people.unlocked("", "482913", some_time));
}

TEST_CASE("with one person the name may be left out") {
    const Folder folder;
    auto people = People::read(folder).value();
    REQUIRE(people.put(owner, "482913", sealing_key, counted_bytes("p"), cheap));
    CHECK(people.unlocked("", "482913", some_time));
}

TEST_CASE("delays grow from half a minute to a quarter of an hour") {
    const std::int64_t s = 1000;
    const std::int64_t expected[] = {0, 0, 0, 30 * s, 60 * s, 120 * s, 240 * s, 480 * s, 900 * s, 900 * s};
    for (std::int64_t wrong = 0; wrong < 10; ++wrong) CHECK(delay_after(wrong) == expected[wrong]);
    CHECK(delay_after(1'000'000'000) == 900 * s);
}

TEST_CASE("after three wrong PINs even the right one waits, across a restart, and nothing is deleted") {
    const Folder folder;
    with_two(folder);
    const auto listed = bytes_of(folder.path() / "keys" / "people.json");
    for (int i = 0; i < 3; ++i) {
        auto people = People::read(folder).value();
        const auto refused = people.unlocked(owner.name, "000111", some_time);
        REQUIRE_FALSE(refused);
        CHECK(refused.error().kind == wm::ProblemKind::Refused);
    }
    auto people = People::read(folder).value();
    const auto waits = people.unlocked(owner.name, "482913", some_time + 29'000);
    REQUIRE_FALSE(waits);
    CHECK(waits.error().what == "After 3 wrong PINs the next can be tried in 1 s.");
    CHECK(waits.error().what_to_do == "Wait, or let another person unlock it. Nothing is deleted by wrong PINs.");
    // Another person is not held up.
    CHECK(people.unlocked(installer.name, "775021", some_time + 29'000));
    REQUIRE(people.unlocked(owner.name, "482913", some_time + 30'000));
    // The right one forgives.
    CHECK_FALSE(people.unlocked(owner.name, "000111", some_time + 30'000));
    CHECK(people.unlocked(owner.name, "482913", some_time + 30'000));
    CHECK(bytes_of(folder.path() / "keys" / "people.json") == listed);
}

TEST_CASE("a clock that went back holds nobody up for longer than the longest delay") {
    const Folder folder;
    auto people = with_two(folder);
    for (int i = 0; i < 3; ++i) static_cast<void>(people.unlocked(owner.name, "000111", some_time));
    const auto year_ago = some_time - 365LL * 86'400'000;
    const auto waits = people.unlocked(owner.name, "482913", year_ago);
    REQUIRE_FALSE(waits);
    CHECK(waits.error().what == "After 3 wrong PINs the next can be tried in 30 s.");
    CHECK(people.not_before_ms(owner.name, year_ago) == year_ago + 30'000);
    // The wait begins anew once, and then it ends, also for a program that starts meanwhile.
    auto again = People::read(folder).value();
    CHECK_FALSE(again.unlocked(owner.name, "482913", year_ago + 29'999));
    CHECK(again.unlocked(owner.name, "482913", year_ago + 30'000));
}

TEST_CASE("one wrong PIN is no reason to wait, wherever the clock goes") {
    const Folder folder;
    auto people = with_two(folder);
    CHECK_FALSE(people.unlocked(owner.name, "000111", some_time));
    CHECK(people.unlocked(owner.name, "482913", some_time - 10 * 60'000));
}

TEST_CASE("a role that was edited in the file opens nothing") {
    const Folder folder;
    with_two(folder);
    const auto file = folder.path() / "keys" / "people.json";
    std::string text = bytes_of(file);
    const auto at = text.find("\"installer\"");
    REQUIRE(at != std::string::npos);
    text.replace(at, 11, "\"owner\"");
    set_bytes(file, text);
    auto people = People::read(folder).value();
    REQUIRE(people.find(installer.name)->role == Role::Owner);
    CHECK_FALSE(people.unlocked(installer.name, "775021", some_time));
    CHECK(people.unlocked(owner.name, "482913", some_time));
}

TEST_CASE("a damaged list of persons is told and lets nobody in") {
    const Folder folder;
    with_two(folder);
    const auto file = folder.path() / "keys" / "people.json";
    const std::string text = bytes_of(file);
    int refused = 0;
    int none_let_in = 0;
    for (std::size_t at = 0; at < text.size(); ++at) {
        std::string altered = text;
        altered[at] = static_cast<char>(altered[at] ^ 1);
        set_bytes(file, altered);
        auto people = People::read(folder);
        if (!people) {
            ++refused;
            continue;
        }
        const auto in = people->unlocked(installer.name, "775021", some_time);
        // Whoever is let in after a change elsewhere is who he was.
        if (in) CHECK((in->person == installer && in->sealing_key == sealing_key));
        else ++none_let_in;
        std::filesystem::remove(folder.path() / "keys" / "tries.json");
    }
    CHECK(refused > 100);
    CHECK(none_let_in > 100);
}

TEST_CASE("easy PINs, a first person without the key to the house and the loss of the last owner are refused") {
    for (const char* pin : {"12345", "111111", "123456", "987654", ""}) {
        CAPTURE(pin);
        CHECK_FALSE(check_new_pin(pin));
    }
    CHECK(check_new_pin("482913"));
    const Folder folder;
    auto people = People::read(folder).value();
    CHECK_FALSE(people.put(installer, "775021", sealing_key, counted_bytes("p"), cheap));
    people = with_two(folder);
    CHECK_FALSE(people.remove(owner.name));
    CHECK_FALSE(people.put({owner.name, Role::Lead}, "482913", sealing_key, counted_bytes("p"), cheap));
    REQUIRE(people.put({"Ode Brannick", Role::Owner}, "604417", sealing_key, counted_bytes("q"), cheap));
    CHECK(people.remove(owner.name));
    CHECK_FALSE(People::read(folder).value().unlocked(owner.name, "482913", some_time));
}

TEST_CASE("neither the PIN nor the sealing key stands in any file") {
    const Folder folder;
    with_two(folder);
    CHECK(files_holding(folder, "482913").empty());
    CHECK(files_holding(folder, sealing_key).empty());
    CHECK(files_holding(folder, "Ilka Marrowby").size() == 1);  // the scan finds what is there
}

TEST_CASE("wrong PINs tried by several programs at once all count, and none keeps the others out") {
    const Folder folder;
    with_two(folder);
    // Each reads the files for itself, as a program of its own does; all begin before one has ended.
    for (const int together : {2, 8}) {
        std::atomic<int> wrong_pin = 0, told_to_wait = 0, other = 0;
        std::vector<std::thread> programs;
        for (int i = 0; i < together; ++i)
            programs.emplace_back([&] {
                auto people = People::read(folder).value();
                const auto in = people.unlocked("Tindo Quellaby", "000017", some_time);
                if (in) ++other;
                else if (in.error().what.starts_with("This is not the PIN")) ++wrong_pin;
                else if (in.error().what.starts_with("After 3 wrong PINs")) ++told_to_wait;
                else ++other;
            });
        for (auto& program : programs) program.join();
        CHECK(other == 0);
        // Two more may be wrong, then one: the third shuts the door for those who come after it.
        CHECK(wrong_pin == (together == 2 ? 2 : 1));
        CHECK(told_to_wait == (together == 2 ? 0 : 7));
    }
    auto people = People::read(folder).value();
    const auto in = people.unlocked("Tindo Quellaby", "775021", some_time);
    REQUIRE_FALSE(in);
    CHECK(in.error().what == "After 3 wrong PINs the next can be tried in 30 s.");
    CHECK(people.unlocked("Tindo Quellaby", "775021", some_time + 30'000));
}

TEST_CASE("the right PIN given by several programs at once lets all of them in") {
    const Folder folder;
    with_two(folder);
    std::atomic<int> in = 0;
    std::vector<std::thread> programs;
    for (int i = 0; i < 8; ++i)
        programs.emplace_back([&] { in += People::read(folder).value().unlocked("Tindo Quellaby", "775021", some_time) ? 1 : 0; });
    for (auto& program : programs) program.join();
    CHECK(in == 8);
}
