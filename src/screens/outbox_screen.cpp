// Outbox.
#include "screens/outbox_screen.hpp"

#include <fmt/format.h>

namespace wm::screens {
namespace {

std::string details(const desk::MessageView& message) {
    std::string words = fmt::format("to {}", message.to);
    if (message.tries > 0) {
        words +=
            fmt::format(" · tried {} {}", message.tries, message.tries == 1 ? "time" : "times");
    }
    if (!message.next_try.empty()) words += " · next try " + message.next_try;
    return words;
}

void card(Touch& touch, ScrollArea& area, const desk::MessageView& message) {
    area.words(message.subject, Face::Bold);
    area.words(message.state + (message.state_words.empty() ? "" : ": " + message.state_words));
    area.words(details(message), Face::Small, touch.theme.quiet);
    // What a person has to see to is told by the state already.
    if (!message.last_answer.empty() && message.state_words.find(message.last_answer) == std::string::npos) {
        area.words("The mail server said: " + message.last_answer, Face::Small, touch.theme.quiet);
    }
    const Rect rule = area.take(touch.mm(0.3F), touch.mm(3.0F));
    ground(touch, rule, touch.theme.line);
}

}  // namespace

void outbox_screen(Touch& touch, const Rect& at, const World& world, Requests& requests) {
    const Scope scope{touch, "outbox"};
    Rect rest = at;
    const std::vector<Rect> deeds =
        columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 2, touch.gap());
    {
        ScrollArea area{touch, "messages", rest};
        if (world.messages.empty())
            area.words(world.listed ? "Nothing to send. Reports come here when handed over." : "The messages are being read.");
        for (const desk::MessageView& message : world.messages) card(touch, area, message);
    }
    const KeyState some = world.messages.empty() ? KeyState::Blocked : KeyState::Ready;
    if (key(touch, "save", deeds[0],
            {.words = "Save as mail files",
             .small = "to send from another device",
             .state = some,
             .why = "There is nothing to send."})) {
        requests.emplace_back(SavePost{});
    }
    if (key(touch, "send", deeds[1],
            {.words = "Send now",
             .role = some == KeyState::Ready ? KeyRole::Primary : KeyRole::Answer,
             .state = some,
             .face = Face::Bold,
             .why = "There is nothing to send."})) {
        requests.emplace_back(SendPost{});
    }
}

}  // namespace wm::screens
