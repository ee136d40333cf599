#include "screens/access_screen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "screens/lock.hpp"
#include "screens/pin_pad.hpp"

namespace wm::screens {
namespace {

bool is_owner(const World& world) {
    const auto* person = person_named(world.lock, world.lock.person);
    return world.lock.people.empty() || (person != nullptr && person->role == "owner");
}

/// Nothing typed stays behind.
void back_to_people(AccessDraft& draft) {
    for (std::string* pin : {&draft.own_pin, &draft.new_pin, &draft.again}) pin->assign(pin->size(), '\0');
    draft = {.shown = true, .answers_seen = draft.answers_seen};
}

void begin(const World& world, AccessDraft& draft, std::string name, std::string role) {
    draft.name = std::move(name);
    draft.role = std::move(role);
    draft.step = world.lock.people.empty() ? AccessStep::NewPin : AccessStep::OwnPin;
}

void lock_times(Touch& touch, ScrollArea& area, const World& world, Requests& requests) {
    area.heading("Locks by itself when nobody touches it");
    constexpr std::array minutes{2, 5, 10, 30, 0};
    const std::vector<Rect> cells = columns(area.take(touch.key_side(), touch.gap()), static_cast<int>(minutes.size()), touch.gap());
    for (std::size_t i = 0; i < minutes.size(); ++i) {
        const std::string words = minutes[i] == 0 ? std::string{"never"} : fmt::format("{} min", minutes[i]);
        if (key(touch, "lock after " + words, cells[i],
                {.words = words, .state = world.lock_minutes == minutes[i] ? KeyState::Chosen : KeyState::Ready, .face = Face::Small}))
            requests.emplace_back(ChooseLockTime{minutes[i]});
    }
}

void one_person(Touch& touch, ScrollArea& area, const World& world, const PersonLock& person, AccessDraft& draft) {
    const bool own = person.name == world.lock.person;
    Rect row = area.take(touch.key_side(), touch.gap());
    const Scope scope{touch, person.name};
    if (is_owner(world) && !own) {
        const Rect away = cut_right(row, touch.mm(30.0F), touch.gap());
        if (key(touch, "away", away, {.words = "Take away", .face = Face::Small})) {
            begin(world, draft, person.name, person.role);
            draft.takes_away = true;
        }
    }
    const bool may_change = own || is_owner(world);
    if (key(touch, "change", row,
            {.words = person.name,
             .small = fmt::format("{}{}", person.role, own ? ", at work now: change PIN" : may_change ? ": new PIN" : ""),
             .role = KeyRole::Row,
             .state = may_change ? KeyState::Ready : KeyState::Blocked,
             .why = "Only the owner changes the PIN of another."}))
        begin(world, draft, person.name, person.role);
}

void people(Touch& touch, const Rect& at, const World& world, AccessDraft& draft, Requests& requests) {
    ScrollArea area{touch, "people", at};
    if (!world.lock.answer.empty() && world.lock.answers > 0) area.words(world.lock.answer, Face::Bold, touch.theme.text);
    area.heading("Who has a PIN");
    if (world.lock.people.empty())
        area.words("Nobody. Whoever has this device can enter, sign and seal as the company. The first person with a PIN is an owner, "
                   "and from then on the keys are sealed by it. Give a second owner one as well: a PIN that is forgotten cannot "
                   "be found out.");
    for (const PersonLock& person : world.lock.people) one_person(touch, area, world, person, draft);
    if (is_owner(world) && key(touch, "add", area.take(touch.key_side(), touch.gap()), {.words = world.lock.people.empty() ? "Set the first PIN" : "A PIN for somebody else"}))
        draft.step = AccessStep::Name;
    if (!world.lock.people.empty()) lock_times(touch, area, world, requests);
}

void name_step(Touch& touch, const Rect& at, AccessDraft& draft) {
    Rect rest = at;
    line_of_text(touch, cut_top(rest, touch.mm(9.0F), touch.gap()), "Name, as it stands in jobs", {.face = Face::Bold, .colour = touch.theme.text});
    Rect row = cut_top(rest, touch.key_side(), touch.gap());
    const Rect on = cut_right(row, touch.mm(30.0F), touch.gap());
    const bool ended = field(touch, "name", row, draft.name, "first and family name");
    const bool pressed = key(touch, "on", on, {.words = "Go on", .role = KeyRole::Primary, .state = draft.name.empty() ? KeyState::Blocked : KeyState::Ready,
                                              .why = "First write the name."});
    if (key(touch, "back", cut_top(rest, touch.key_side()), {.words = "Back", .face = Face::Small})) return back_to_people(draft);
    if ((ended || pressed) && !draft.name.empty()) draft.step = AccessStep::Role;
}

void role_step(Touch& touch, const Rect& at, const World& world, AccessDraft& draft) {
    if (world.lock.people.empty()) return begin(world, draft, draft.name, "owner");
    struct Choice {
        std::string_view role, may;
    };
    constexpr std::array choices{Choice{"installer", "works on the jobs of the own crew"}, Choice{"lead", "also concedes and erases"},
                                 Choice{"owner", "also gives PINs"}};
    ScrollArea area{touch, "roles", at};
    area.heading(fmt::format("What may {} do?", draft.name));
    for (const Choice& choice : choices)
        if (key(touch, choice.role, area.take(touch.strong_side(), touch.gap()), {.words = choice.role, .small = choice.may, .role = KeyRole::Answer}))
            begin(world, draft, draft.name, std::string{choice.role});
    if (key(touch, "back", area.take(touch.key_side()), {.words = "Back", .face = Face::Small})) back_to_people(draft);
}

std::string pin_words(const World& world, const AccessDraft& draft) {
    if (draft.step == AccessStep::OwnPin) return fmt::format("Your PIN now, {}", world.lock.person);
    if (draft.step == AccessStep::Again) return "The new PIN once more";
    return fmt::format("New PIN of {}: six or more", draft.name);
}

void send(const AccessDraft& draft, Requests& requests) {
    if (draft.takes_away) requests.emplace_back(TakePinAway{draft.own_pin, draft.name});
    else requests.emplace_back(GivePin{draft.own_pin, draft.name, draft.role, draft.new_pin});
}

void pin_done(AccessDraft& draft, Requests& requests) {
    draft.board = {};
    if (draft.step == AccessStep::OwnPin && !draft.takes_away) {
        draft.step = AccessStep::NewPin;
    } else if (draft.step == AccessStep::NewPin) {
        draft.unequal = false;
        draft.step = AccessStep::Again;
    } else if (draft.step == AccessStep::Again && draft.again != draft.new_pin) {
        draft.unequal = true;
        draft.new_pin.clear();
        draft.again.clear();
        draft.step = AccessStep::NewPin;
    } else {
        send(draft, requests);
        back_to_people(draft);
    }
}

void pin_step(Touch& touch, const Rect& at, const World& world, AccessDraft& draft, Requests& requests) {
    Rect rest = at;
    const Rect pad = cut_pin_pad(touch, rest, draft.board);
    bool back = false;
    {
        ScrollArea area{touch, "words", rest};
        area.heading(draft.takes_away ? fmt::format("Take the PIN of {} away", draft.name) : fmt::format("PIN of {}, {}", draft.name, draft.role));
        area.words(pin_words(world, draft));
        if (draft.unequal) area.words("The two were not the same. Type the new one again.", Face::Bold, touch.theme.text);
        back = key(touch, "back", area.take(touch.key_side(), touch.gap()), {.words = "Back", .face = Face::Small});
    }
    std::string& pin = draft.step == AccessStep::OwnPin ? draft.own_pin : draft.step == AccessStep::NewPin ? draft.new_pin : draft.again;
    const bool done = pin_pad(touch, pad, pin, draft.board, {.done = draft.takes_away ? "Take away" : "Go on"});
    if (back) return back_to_people(draft);
    if (done) pin_done(draft, requests);
}

}  // namespace

void access_screen(Touch& touch, const Rect& at, const World& world, AccessDraft& draft, Requests& requests) {
    const Scope scope{touch, "access"};
    if (touch.typing.take(Stroke::Escape) && draft.step != AccessStep::People) back_to_people(draft);
    switch (draft.step) {
        case AccessStep::People:
            return people(touch, at, world, draft, requests);
        case AccessStep::Name:
            return name_step(touch, at, draft);
        case AccessStep::Role:
            return role_step(touch, at, world, draft);
        case AccessStep::OwnPin:
        case AccessStep::NewPin:
        case AccessStep::Again:
            return pin_step(touch, at, world, draft, requests);
    }
}

}  // namespace wm::screens
