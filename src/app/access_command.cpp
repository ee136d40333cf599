// `access`: who has a PIN for this data folder.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/half_typed.hpp"
#include "app/json_views.hpp"
#include "desk/access.hpp"
#include "digest/hash.hpp"

namespace wm::app {

namespace {

Json people_json(const std::vector<store::Person>& people) {
    Json list = Json::array();
    for (const auto& person : people) list.push_back({{"name", person.name}, {"role", std::string{store::word_of(person.role)}}});
    return list;
}

/// Anybody may see who has a PIN: whoever forgot whom to ask must find out.
Output list_people(const World& world, Form form) {
    const auto people = store::People::read(world.data);
    if (!people) return told_as(people.error(), form);
    if (form == Form::Json)
        return {document({{"sealed", !people->empty()}, {"people", people_json(people->all())}}), "", 0};
    std::string text;
    for (const auto& person : people->all()) text += fmt::format("{}  {}\n", store::word_of(person.role), person.name);
    return {text,
            people->empty() ? "Nobody has a PIN. The keys of this folder are not sealed: who can read the folder can sign with them.\n"
                            : "The keys of this folder are sealed by these PINs.\n",
            0};
}

Output told(desk::Desk& desk, Form form, const std::string& talk) {
    const auto people = desk.journal().people();
    if (!people) return told_as(people.error(), form);
    if (form == Form::Json) return {document({{"sealed", true}, {"people", people_json(*people)}}), "", 0};
    return {"", talk, 0};
}

Output add_person(const Arguments& arguments, const World& world, Form form) {
    const auto name = arguments.word(2, "The name of the person");
    if (!name) return told_as(name.error(), form);
    if (!arguments.has("new-pin-file"))
        return told_as({"The file with the new PIN is missing.", "access add", "Write --new-pin-file FILE; the PIN is its first line.",
                        ProblemKind::WrongUse},
                       form);
    auto pin = read_file(arguments.value("new-pin-file"));
    if (!pin) return told_as(pin.error(), form);
    pin->resize(std::min(pin->size(), pin->find_first_of("\r\n")));
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    std::optional<store::Role> role;
    if (arguments.has("role") && !(role = store::role_named(arguments.value("role"))))
        return told_as({fmt::format("There is no role \"{}\".", arguments.value("role")), "--role", "Use installer, lead or owner.",
                        ProblemKind::WrongUse},
                       form);
    const bool is_first = !desk->journal().keys().sealed_by_pin();
    const auto done = desk::give_pin(*desk, *name, role, *pin);
    digest::wipe(*pin);
    if (!done) return told_as(done.error(), form);
    if (const auto sealed = seal_half_typed(world.data, {desk->journal().keys().sealing_key(), world.random}); !sealed)
        return told_as(sealed.error(), form);
    return told(*desk, form, fmt::format("{} has a PIN as {}.{}\n", done->name, store::word_of(done->role),
                                         is_first ? " From now on nothing opens without one; keep a second owner, for a PIN "
                                                    "that is forgotten cannot be found out."
                                                  : ""));
}

Output remove_person(const Arguments& arguments, const World& world, Form form) {
    const auto name = arguments.word(2, "The name of the person");
    if (!name) return told_as(name.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    if (const auto done = desk::take_pin_away(*desk, *name); !done) return told_as(done.error(), form);
    return told(*desk, form, fmt::format("{} has no PIN any more. Who kept a copy of the folder still knows its keys.\n", *name));
}

}  // namespace

Output run_access(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto what = arguments.word(1, "What to do");
    if (!what) return told_as(what.error(), form);
    if (*what == "list") return list_people(world, form);
    if (*what == "add") return add_person(arguments, world, form);
    if (*what == "remove") return remove_person(arguments, world, form);
    return told_as({fmt::format("There is no \"access {}\".", *what), "access", "Use access list, access add or access remove.",
                    ProblemKind::WrongUse},
                   form);
}

}  // namespace wm::app
