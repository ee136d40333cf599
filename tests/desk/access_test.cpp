#include "desk/access.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Clock;
using testing::Folder;
using testing::setup_in;

namespace {

Desk opened_by(const Folder& folder, const Clock& clock, std::optional<store::Person> person, std::string sealing_key = "") {
    auto setup = setup_in(folder.path() / "data", clock, "a");
    setup.person = std::move(person);
    setup.sealing_key = std::move(sealing_key);
    auto desk = Desk::open(std::move(setup));
    REQUIRE(desk);
    return std::move(*desk);
}

}  // namespace

TEST_CASE("the first PIN makes an owner; after it each gives only what the own role may") {
    const Folder folder;
    const Clock clock;
    {
        auto desk = opened_by(folder, clock, std::nullopt);
        CHECK_FALSE(give_pin(desk, "Ilka Marrowby", store::Role::Lead, "482913"));
        CHECK_FALSE(give_pin(desk, "Ilka Marrowby", std::nullopt, "12345"));
        const auto first = give_pin(desk, "Ilka Marrowby", std::nullopt, "482913");
        REQUIRE(first);
        CHECK(first->role == store::Role::Owner);
    }
    auto people = *store::People::read(folder.path() / "data");
    const auto key = people.unlocked("Ilka Marrowby", "482913", 0)->sealing_key;
    {
        auto owner = opened_by(folder, clock, store::Person{"Ilka Marrowby", store::Role::Owner}, key);
        CHECK(give_pin(owner, "Ode Brannick", std::nullopt, "775021")->role == store::Role::Installer);
        CHECK(give_pin(owner, "Sella Marrow", store::Role::Lead, "775022")->role == store::Role::Lead);
        // A new PIN of a known person leaves the role as it is.
        CHECK(give_pin(owner, "Sella Marrow", std::nullopt, "775023")->role == store::Role::Lead);
        CHECK_FALSE(take_pin_away(owner, "Ilka Marrowby"));
    }
    auto installer = opened_by(folder, clock, store::Person{"Ode Brannick", store::Role::Installer}, key);
    CHECK(give_pin(installer, "Ode Brannick", std::nullopt, "661177"));
    CHECK_FALSE(give_pin(installer, "Ode Brannick", store::Role::Owner, "661177"));
    CHECK_FALSE(give_pin(installer, "Sella Marrow", std::nullopt, "661177"));
    CHECK_FALSE(give_pin(installer, "Orla Finch", std::nullopt, "661177"));
    CHECK_FALSE(take_pin_away(installer, "Sella Marrow"));
    CHECK(store::People::read(folder.path() / "data")->unlocked("Ode Brannick", "661177", 0));
}

}  // namespace wm::desk
