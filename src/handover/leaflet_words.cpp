#include "handover/leaflet_words.hpp"

#include <fmt/format.h>

#include "handover/plain_words.hpp"

namespace wm::handover {

namespace {

using figures::FeedKind;
using figures::LoopKind;
using Sentences = std::vector<std::string>;

bool has_controller(const Leaflet& leaflet) { return leaflet.controller && *leaflet.controller != ControllerKind::None; }

/// The way out for water that is too hot or too much, as this house has it.
std::string_view way_out(const Leaflet& leaflet) {
    if (!leaflet.plant.feed) return "safety pipe or open pipe";
    return *leaflet.plant.feed == FeedKind::Mains ? "safety pipe" : "open pipe";
}

std::string headline_of(const Leaflet& leaflet) {
    if (leaflet.practice) return "Practice: nothing was fitted";
    return leaflet.finished ? "How to live with your set" : "Draft: not finished yet";
}

Sentences about_of(const Leaflet& leaflet) {
    if (leaflet.practice) return {"This is a practice paper. It says nothing of a real house."};
    Sentences all;
    if (!leaflet.finished) all.emplace_back("The work is not finished. Wait for the last paper.");
    if (!leaflet.plant.loop) all.emplace_back("Ask us which kind of set you have.");
    else if (*leaflet.plant.loop == LoopKind::Indirect) all.emplace_back("A fluid that stands frost brings the heat from the glass box to your tank.");
    else all.emplace_back("The water you use gets warm in the glass box itself.");
    if (leaflet.controller == ControllerKind::None) all.emplace_back("There is no pump and nothing to switch. Warm water rises by itself.");
    else if (leaflet.controller == ControllerKind::Temperature) all.emplace_back("There is no pump. A small box shows how hot the water is.");
    else if (leaflet.controller == ControllerKind::Timer) all.emplace_back("There is no pump. A small box lets the heater run after the hours of sun.");
    all.emplace_back("When the sun is weak, the electric heater adds heat.");
    return all;
}

std::vector<SafetySentence> cautions_of(const Leaflet& leaflet) {
    std::vector<SafetySentence> all;
    if (leaflet.set.taps.empty() && !leaflet.practice)
        all.push_back({Signal::Danger, "Do not wash with hot water yet. Nobody has measured your taps."});
    for (auto& sentence : never_sentences(leaflet.plant, language::Language{})) all.push_back(std::move(sentence));
    all.insert(all.end() - 1, {Signal::Warning, leaflet.vulnerable
                                                    ? "Hot water burns the young and the old in a second or two. Feel it first."
                                                    : "Water of 60 °C burns skin in a few seconds. Feel it before a child bathes."});
    return all;
}

Sentences emergency_of(const Leaflet& leaflet) {
    return {fmt::format("Keep clear of the {}. Let nobody near it.", way_out(leaflet)),
            "Shut the cold water, if you can do so without harm.",
            "Switch off the heater. The sun still goes on heating the water.",
            "Call us and a person with a licence at once. Is there smoke? Go out, and call the fire service."};
}

std::string or_not_on_record(const std::string& value) { return value.empty() ? "not on record" : value; }
std::string mind_or_ask(const std::string& value, std::string mind) { return value.empty() ? "Ask us for it." : std::move(mind); }

std::vector<LeafletSetting> settings_of(const Leaflet& leaflet) {
    const auto& set = leaflet.set;
    std::vector<LeafletSetting> all;
    const auto add = [&](std::string what, const std::string& value, std::string mind) {
        all.push_back({std::move(what), or_not_on_record(value), mind_or_ask(value, std::move(mind))});
    };
    add("Electric heater", set.heater, "Leave it there. Germs can grow below 60 °C.");
    add("Hottest washing tap",
        set.taps.empty() || set.taps_allowed.empty() ? set.taps : fmt::format("{}, at most {}", set.taps, set.taps_allowed),
        "Call us if a tap gets hotter than that.");
    if (leaflet.plant.feed == FeedKind::Mains) {
        add("Water pressure", set.pressure, "Read it cold, with all taps shut. Call us if it is far off.");
        add("Safety tap opens at", set.relief, "It opens by itself. Never turn it or block it.");
    }
    if (leaflet.plant.loop == LoopKind::Indirect) add("The fluid freezes at", set.freezes, "Only we fill it up.");
    if (leaflet.controller == ControllerKind::Timer)
        add("Small box", set.program_right ? "heats after the hours of sun" : "", "Leave its times. Look at its clock now and then.");
    if (leaflet.controller == ControllerKind::Temperature) all.push_back({"Small box", "shows the heat", "Leave its settings as they are."});
    return all;
}

std::string growing_of(const Leaflet& leaflet) {
    if (!leaflet.growing) return "Ask us if a few drops at the safety pipe are normal in your house.";
    switch (*leaflet.growing) {
        case GrowingWater::SeenDrain: return "A few drops at the safety pipe while the sun heats. Hot water needs more room.";
        case GrowingWater::Vessel: return "No drops at the safety pipe. A small tank takes what needs more room.";
        case GrowingWater::BackToMain: return "No drops at the safety pipe. What needs more room goes back to the street.";
    }
    return "";
}

Sentences normal_of(const Leaflet& leaflet) {
    Sentences all;
    if (leaflet.plant.feed == FeedKind::Mains) all.push_back(growing_of(leaflet));
    if (leaflet.plant.feed == FeedKind::Vented) {
        all.emplace_back("A little mist or a few drops at the open pipe on a hot day.");
        all.emplace_back("The sound of water when the tank fills up.");
    }
    all.emplace_back("Soft ticks when pipes get warm or cold.");
    all.emplace_back("A low hiss from the heater while it heats.");
    if (has_controller(leaflet)) all.emplace_back("A click from the small box now and then.");
    if (leaflet.plant.loop == LoopKind::Indirect) all.emplace_back("A soft gurgle in the first days. Call us if it stays.");
    all.emplace_back("Mist inside the glass on a cool morning. The sun takes it away.");
    return all;
}

Sentences calls_of(const Leaflet& leaflet) {
    Sentences all;
    all.push_back(fmt::format("Water runs from the {} for long, or at night.", way_out(leaflet)));
    all.emplace_back("There is a wet stain on a wall or under the roof.");
    if (leaflet.plant.loop == LoopKind::Indirect) all.emplace_back("Something sticky or coloured drips. Do not taste it.");
    all.emplace_back("A tap is hotter than it was, or spits.");
    all.emplace_back("The water is still cool after two days of sun.");
    all.emplace_back("The tank is warm at night and cold in the morning.");
    all.emplace_back("The switch of the heater will not stay on. Do not try again.");
    if (leaflet.controller == ControllerKind::Timer) all.emplace_back("The clock of the small box is wrong.");
    all.emplace_back("The glass is cracked, or mist stays in it all day.");
    return all;
}

Sentences holiday_of(const Leaflet& leaflet) {
    Sentences all{"Ask us before you go away for more than a week in the hot months."};
    all.push_back(fmt::format("When nobody draws water, the set gets very hot. Steam may come from the {}.", way_out(leaflet)));
    all.emplace_back("We tell you if the glass should be covered. Do not climb up to do it.");
    if (leaflet.heated_pipe) all.emplace_back("Leave the power of the pipe outside on when it may freeze.");
    all.emplace_back("Is the heater off while you are away? Then give it a full day on before you wash.");
    all.emplace_back("Back home, let each hot tap run gently for some minutes. Do not breathe in the spray.");
    return all;
}

Sentences frost_of(const Leaflet& leaflet) {
    Sentences all;
    if (!leaflet.plant.loop) {
        all.emplace_back("Ask us before the first frost what your set can stand.");
    } else if (*leaflet.plant.loop == LoopKind::Indirect) {
        if (leaflet.set.freezes.empty()) {
            all.emplace_back("Nobody has measured how much frost the fluid stands. Ask us before the first frost.");
        } else {
            all.push_back(fmt::format("The fluid froze at {} when we measured it.", leaflet.set.freezes));
            all.emplace_back("It gets weaker with the years. Have it tested each year before the first frost.");
        }
        if (!leaflet.coldest.empty()) all.push_back(fmt::format("The coldest air here in 20 years was {}.", leaflet.coldest));
    } else {
        if (leaflet.frost == false) all.emplace_back("Frost is not usual here. Call us as soon as it is in the forecast.");
        else all.emplace_back("Call us before the first frost. We empty the glass box.");
        all.emplace_back("Water in the glass box can freeze and burst it, even when the air is just above 0 °C.");
    }
    if (leaflet.heated_pipe) all.emplace_back("A wire keeps the cold pipe outside warm. It needs power all winter.");
    all.emplace_back("Is a pipe frozen? Do not heat it. Shut the cold water and call us.");
    return all;
}

Sentences glass_of(const Leaflet& leaflet) {
    Sentences all{"Rain washes the glass. Look at it from the ground.", "Is it still dirty? Ask us. Do not go up.",
                  "Never put cold water on hot glass. It can crack.", "Trees grow. Tell us when shade falls on the glass."};
    if (!leaflet.cover_until.empty()) all.push_back("The glass is covered for now. Ask us before you take the cover off.");
    return all;
}

Sentences shown_of(const Leaflet& leaflet) {
    if (leaflet.practice) return {"Nobody was shown a real set."};
    if (!leaflet.shown) return {"Nobody has noted that you were shown all seven things yet.", "Ask us to show you how to shut the water and the power."};
    return {"We showed you how to shut the water and the power, the normal drip, and how hot water burns.",
            "We also showed you what to do on holiday and in frost, and whom to call."};
}

void explain(LeafletWords& words) {
    std::string all = words.headline;
    const auto add = [&](const std::string& text) { all += " . " + text; };
    for (const auto* list : {&words.about, &words.emergency, &words.normal, &words.call_us, &words.holiday, &words.frost, &words.glass, &words.shown, &words.who})
        for (const auto& sentence : *list) add(sentence);
    for (const auto& caution : words.cautions) add(caution.words);
    for (const auto& row : words.settings) add(row.what + " . " + row.value + " . " + row.mind);
    words.terms = trade_words_in(all);
}

}  // namespace

LeafletWords leaflet_words(const Leaflet& leaflet) {
    LeafletWords words;
    words.headline = headline_of(leaflet);
    words.about = about_of(leaflet);
    words.cautions = cautions_of(leaflet);
    words.emergency = emergency_of(leaflet);
    words.settings = settings_of(leaflet);
    words.normal = normal_of(leaflet);
    words.call_us = calls_of(leaflet);
    words.holiday = holiday_of(leaflet);
    words.frost = frost_of(leaflet);
    words.glass = glass_of(leaflet);
    words.shown = shown_of(leaflet);
    words.said = cut_to(leaflet.own_words, most_own_words);
    words.who = {"Only a person with a licence may work on the heater, its wires or its pipes.",
                 "The rules of your town and the book of the maker come before this paper."};
    explain(words);
    return words;
}

}  // namespace wm::handover
