#include "handover/plain_words.hpp"

#include <algorithm>
#include <array>
#include <string>

namespace wm::handover {

using language::marked;

namespace {

struct PlainWord {
    std::string_view word;
    const char* meaning;
};

/// Longer phrases stand before the words they hold.
constexpr std::array plain_words{
    PlainWord{"residual-current device", marked("switch that stops electric shocks")},
    PlainWord{"temperature-and-pressure valve", marked("safety tap for heat and pressure")},
    PlainWord{"heating element", marked("part that makes the heat")},
    PlainWord{"discharge pipe", marked("pipe that leads hot water away")},
    PlainWord{"tempering valve", marked("adds cold water to hot taps")},
    PlainWord{"limiting valve", marked("keeps the water pressure down")},
    PlainWord{"non-return valve", marked("lets water flow one way")},
    PlainWord{"isolating valve", marked("tap that shuts the water off")},
    PlainWord{"mixing valve", marked("adds cold water to hot taps")},
    PlainWord{"relief valve", marked("safety tap that opens by itself")},
    PlainWord{"relief pipe", marked("pipe that leads hot water away")},
    PlainWord{"vacuum break", marked("part that lets air in")},
    PlainWord{"fault loop", marked("way of the current in danger")},
    PlainWord{"cold feed", marked("pipe that brings cold water")},
    PlainWord{"propylene glycol", marked("harmless fluid that stands frost")},
    PlainWord{"absorber", marked("dark plate that gets hot")},
    PlainWord{"anchor", marked("bolt that holds the tank down")},
    PlainWord{"anode", marked("rod that stops rust")},
    PlainWord{"antifreeze", marked("fluid that stands frost")},
    PlainWord{"ballast", marked("weight that holds things down")},
    PlainWord{"batten", marked("thin wood under the tiles")},
    PlainWord{"bonded", marked("joined to a safety wire")},
    PlainWord{"bracket", marked("metal arm that holds the set")},
    PlainWord{"breaker", marked("switch that cuts the power")},
    PlainWord{"calibrated", marked("proved to read right")},
    PlainWord{"clamp", marked("grip that holds the glass box")},
    PlainWord{"collar", marked("ring that closes an end")},
    PlainWord{"collector", marked("glass box that catches the sun")},
    PlainWord{"concentrate", marked("frost fluid without water")},
    PlainWord{"controller", marked("small box that steers the heater")},
    PlainWord{"cut-out", marked("switch that stops overheating")},
    PlainWord{"downcomer", marked("pipe with the cooler water")},
    PlainWord{"drain", marked("tap that lets water out")},
    PlainWord{"earth", marked("wire that makes faults harmless")},
    PlainWord{"expansion", marked("hot water takes more room")},
    PlainWord{"fixing", marked("screw that holds things")},
    PlainWord{"flashed", marked("sealed with a metal sheet")},
    PlainWord{"flashing", marked("metal sheet that keeps rain out")},
    PlainWord{"flushed", marked("rinsed with much water")},
    PlainWord{"gauge", marked("dial that shows the pressure")},
    PlainWord{"glycol", marked("fluid that stands frost")},
    PlainWord{"harness", marked("belt that stops a fall")},
    PlainWord{"hook", marked("metal arm under the tiles")},
    PlainWord{"insulation", marked("cover that keeps in the heat")},
    PlainWord{"jacket", marked("outer cover")},
    PlainWord{"joint", marked("place where two pipes meet")},
    PlainWord{"loop", marked("ring of pipes with the fluid")},
    PlainWord{"non-return", marked("lets water flow one way")},
    PlainWord{"port", marked("place where a pipe joins")},
    PlainWord{"premix", marked("frost fluid ready to use")},
    PlainWord{"purlin", marked("beam along the roof")},
    PlainWord{"rafter", marked("sloping beam of the roof")},
    PlainWord{"refractometer", marked("tool that tests the fluid")},
    PlainWord{"relief", marked("safety tap that opens by itself")},
    PlainWord{"riser", marked("pipe with the hotter water")},
    PlainWord{"sensor", marked("part that feels the heat")},
    PlainWord{"stagnation", marked("sun but no water drawn")},
    PlainWord{"store", marked("hot water tank on the roof")},
    PlainWord{"strainer", marked("sieve in the pipe")},
    PlainWord{"thermosiphon", marked("warm water rises without a pump")},
    PlainWord{"thermostat", marked("part that sets the heat")},
    PlainWord{"thread", marked("groove of a screw")},
    PlainWord{"tilt", marked("how steeply it stands")},
    PlainWord{"torque", marked("how hard a nut is turned")},
    PlainWord{"valve", marked("tap in a pipe")},
    PlainWord{"vent", marked("open pipe for air")},
    PlainWord{"vessel", marked("closed tank")},
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

std::vector<GlossaryTerm> trade_words_in(std::string_view text, const language::Language& say) {
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
                    found.push_back({std::string{entry.word}, say.text(entry.meaning)});
                break;
            }
        }
        at += std::max<std::size_t>(length, 1);
    }
    return found;
}

}  // namespace wm::handover
