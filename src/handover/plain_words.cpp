#include "handover/plain_words.hpp"

#include <algorithm>
#include <array>
#include <string>

namespace wm::handover {

namespace {

struct PlainWord {
    std::string_view word;
    std::string_view meaning;
};

/// Longer phrases stand before the words they hold.
constexpr std::array plain_words{
    PlainWord{"residual-current device", "switch that stops electric shocks"},
    PlainWord{"temperature-and-pressure valve", "safety tap for heat and pressure"},
    PlainWord{"heating element", "part that makes the heat"},
    PlainWord{"discharge pipe", "pipe that leads hot water away"},
    PlainWord{"tempering valve", "adds cold water to hot taps"},
    PlainWord{"limiting valve", "keeps the water pressure down"},
    PlainWord{"non-return valve", "lets water flow one way"},
    PlainWord{"isolating valve", "tap that shuts the water off"},
    PlainWord{"mixing valve", "adds cold water to hot taps"},
    PlainWord{"relief valve", "safety tap that opens by itself"},
    PlainWord{"relief pipe", "pipe that leads hot water away"},
    PlainWord{"vacuum break", "part that lets air in"},
    PlainWord{"fault loop", "way of the current in danger"},
    PlainWord{"cold feed", "pipe that brings cold water"},
    PlainWord{"propylene glycol", "harmless fluid that stands frost"},
    PlainWord{"absorber", "dark plate that gets hot"},
    PlainWord{"anchor", "bolt that holds the tank down"},
    PlainWord{"anode", "rod that stops rust"},
    PlainWord{"antifreeze", "fluid that stands frost"},
    PlainWord{"ballast", "weight that holds things down"},
    PlainWord{"batten", "thin wood under the tiles"},
    PlainWord{"bonded", "joined to a safety wire"},
    PlainWord{"bracket", "metal arm that holds the set"},
    PlainWord{"breaker", "switch that cuts the power"},
    PlainWord{"calibrated", "proved to read right"},
    PlainWord{"clamp", "grip that holds the glass box"},
    PlainWord{"collar", "ring that closes an end"},
    PlainWord{"collector", "glass box that catches the sun"},
    PlainWord{"concentrate", "frost fluid without water"},
    PlainWord{"controller", "small box that steers the heater"},
    PlainWord{"cut-out", "switch that stops overheating"},
    PlainWord{"downcomer", "pipe with the cooler water"},
    PlainWord{"drain", "tap that lets water out"},
    PlainWord{"earth", "wire that makes faults harmless"},
    PlainWord{"expansion", "hot water takes more room"},
    PlainWord{"fixing", "screw that holds things"},
    PlainWord{"flashed", "sealed with a metal sheet"},
    PlainWord{"flashing", "metal sheet that keeps rain out"},
    PlainWord{"flushed", "rinsed with much water"},
    PlainWord{"gauge", "dial that shows the pressure"},
    PlainWord{"glycol", "fluid that stands frost"},
    PlainWord{"harness", "belt that stops a fall"},
    PlainWord{"hook", "metal arm under the tiles"},
    PlainWord{"insulation", "cover that keeps in the heat"},
    PlainWord{"jacket", "outer cover"},
    PlainWord{"joint", "place where two pipes meet"},
    PlainWord{"loop", "ring of pipes with the fluid"},
    PlainWord{"non-return", "lets water flow one way"},
    PlainWord{"port", "place where a pipe joins"},
    PlainWord{"premix", "frost fluid ready to use"},
    PlainWord{"purlin", "beam along the roof"},
    PlainWord{"rafter", "sloping beam of the roof"},
    PlainWord{"refractometer", "tool that tests the fluid"},
    PlainWord{"relief", "safety tap that opens by itself"},
    PlainWord{"riser", "pipe with the hotter water"},
    PlainWord{"sensor", "part that feels the heat"},
    PlainWord{"stagnation", "sun but no water drawn"},
    PlainWord{"store", "hot water tank on the roof"},
    PlainWord{"strainer", "sieve in the pipe"},
    PlainWord{"thermosiphon", "warm water rises without a pump"},
    PlainWord{"thermostat", "part that sets the heat"},
    PlainWord{"thread", "groove of a screw"},
    PlainWord{"tilt", "how steeply it stands"},
    PlainWord{"torque", "how hard a nut is turned"},
    PlainWord{"valve", "tap in a pipe"},
    PlainWord{"vent", "open pipe for air"},
    PlainWord{"vessel", "closed tank"},
};

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80;
}

std::string in_small_letters(std::string_view text) {
    std::string small{text};
    for (char& c : small) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return small;
}

/// Length of the word or its plural where it stands alone at `at`; 0 if it does not.
std::size_t length_at(std::string_view text, std::size_t at, std::string_view word) {
    if (text.substr(at, word.size()) != word) return 0;
    std::size_t end = at + word.size();
    if (text.substr(end, 1) == "s") ++end;
    return end < text.size() && is_letter(text[end]) ? 0 : end - at;
}

}  // namespace

std::vector<GlossaryTerm> trade_words_in(std::string_view text) {
    const std::string small = in_small_letters(text);
    std::vector<GlossaryTerm> found;
    for (std::size_t at = 0; at < small.size();) {
        std::size_t length = 0;
        if (at == 0 || !is_letter(small[at - 1])) {
            for (const PlainWord& entry : plain_words) {
                length = length_at(small, at, entry.word);
                if (length == 0) continue;
                const bool known = std::any_of(found.begin(), found.end(), [&](const auto& term) {
                    return term.word == entry.word;
                });
                if (!known)
                    found.push_back({std::string{entry.word}, std::string{entry.meaning}});
                break;
            }
        }
        at += std::max<std::size_t>(length, 1);
    }
    return found;
}

}  // namespace wm::handover
