#include "desk/access.hpp"

#include <algorithm>

#include "desk/permission.hpp"

namespace wm::desk {

Result<store::Person> give_pin(Desk& desk, const std::string& name, std::optional<store::Role> role, std::string_view pin) {
    const auto people = desk.journal().people();
    if (!people) return tl::unexpected(people.error());
    const auto& me = desk.setup().person;
    const auto known = std::find_if(people->begin(), people->end(), [&](const store::Person& each) { return each.name == name; });
    const store::Role first = people->empty() ? store::Role::Owner : store::Role::Installer;
    const store::Person person{name, role.value_or(known != people->end() ? known->role : first)};
    const bool only_the_own_pin = me && *me == person;
    if (!only_the_own_pin)
        if (const auto fine = may(desk.setup(), store::Role::Owner, "give PINs"); !fine) return tl::unexpected(fine.error());
    if (auto done = desk.journal().put_person(person, pin); !done) return tl::unexpected(done.error());
    return person;
}

Result<void> take_pin_away(Desk& desk, const std::string& name) {
    if (auto fine = may(desk.setup(), store::Role::Owner, "take PINs away"); !fine) return fine;
    return desk.journal().remove_person(name);
}

}  // namespace wm::desk
