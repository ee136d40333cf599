#include "screens/lock.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

World crew_of_two() {
    World world;
    world.lock.people = {{"Tindo Quellaby", "owner", 0}, {"Ode Brannick", "installer", 0}};
    world.lock.person = "Tindo Quellaby";
    world.lock_minutes = 10;
    world.moment = {"", 1000, 100.0};
    return world;
}

template <class T>
int count(const Requests& requests) {
    return static_cast<int>(std::count_if(requests.begin(), requests.end(), [](const Request& r) { return std::holds_alternative<T>(r); }));
}

}  // namespace

TEST_CASE("without PINs nothing ever locks") {
    World world = crew_of_two();
    world.lock.people.clear();
    world.lock.person.clear();
    LockDraft draft;
    Requests requests;
    look_after_lock(world, draft, {}, requests);
    world.moment.monotonic_s += 100'000.0;
    look_after_lock(world, draft, {}, requests);
    shut(world, draft, requests);
    CHECK(requests.empty());
    CHECK_FALSE(is_locked(world, draft));
    CHECK_FALSE(seconds_to_lock(world, draft));
}

TEST_CASE("it locks once after the idle time, and a hand that moved puts that off") {
    World world = crew_of_two();
    LockDraft draft;
    Requests requests;
    look_after_lock(world, draft, {}, requests);
    CHECK(seconds_to_lock(world, draft) == 600.0);
    world.moment.monotonic_s += 599.0;
    look_after_lock(world, draft, {.x = 5.0F}, requests);
    CHECK(requests.empty());
    world.moment.monotonic_s += 599.0;
    look_after_lock(world, draft, {.x = 5.0F}, requests);
    CHECK(requests.empty());
    world.moment.monotonic_s += 1.0;
    look_after_lock(world, draft, {.x = 5.0F}, requests);
    look_after_lock(world, draft, {.x = 5.0F}, requests);
    CHECK(count<LockWindow>(requests) == 1);
    CHECK(is_locked(world, draft));
    CHECK(draft.name == "Tindo Quellaby");  // most likely the same comes back
}

TEST_CASE("who comes back after the idle time finds it locked before the first touch is taken in") {
    World world = crew_of_two();
    LockDraft draft;
    Requests requests;
    look_after_lock(world, draft, {}, requests);
    world.moment.monotonic_s += 3600.0;  // asleep, and nothing was drawn
    look_after_lock(world, draft, {.x = 50.0F, .down = true}, requests);
    CHECK(is_locked(world, draft));
    CHECK(count<LockWindow>(requests) == 1);
}

TEST_CASE("0 minutes means that it never locks by itself, by hand it does") {
    World world = crew_of_two();
    world.lock_minutes = 0;
    LockDraft draft;
    Requests requests;
    look_after_lock(world, draft, {}, requests);
    world.moment.monotonic_s += 1e6;
    look_after_lock(world, draft, {}, requests);
    CHECK(requests.empty());
    CHECK_FALSE(seconds_to_lock(world, draft));
    shut(world, draft, requests);
    CHECK(is_locked(world, draft));
}

TEST_CASE("it stays locked until a PIN was right, whatever else is answered") {
    World world = crew_of_two();
    LockDraft draft;
    Requests requests;
    look_after_lock(world, draft, {}, requests);
    shut(world, draft, requests);
    draft.pin = "12";
    draft.sent = true;
    ++world.lock.answers;  // a wrong one
    look_after_lock(world, draft, {}, requests);
    CHECK(is_locked(world, draft));
    CHECK(draft.pin.empty());
    CHECK_FALSE(draft.sent);
    ++world.lock.answers;
    ++world.lock.unlocked;
    world.lock.person = "Ode Brannick";
    look_after_lock(world, draft, {}, requests);
    CHECK_FALSE(is_locked(world, draft));
    // The idle time begins anew.
    CHECK(seconds_to_lock(world, draft) == 600.0);
}

TEST_CASE("while a delay runs the lock wants a frame each second") {
    World world = crew_of_two();
    world.lock.person.clear();
    world.lock.people[1].not_before_s = 1030;
    LockDraft draft;
    draft.name = "Ode Brannick";
    CHECK(seconds_to_wait(world, "Ode Brannick") == 30);
    CHECK(seconds_to_lock(world, draft) == 1.0);
    draft.name = "Tindo Quellaby";
    CHECK_FALSE(seconds_to_lock(world, draft));
    CHECK(seconds_to_wait(world, "nobody") == 0);
}
