#include "handover/plain_words.hpp"

#include <doctest/doctest.h>

#include "handover/page_one_words.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

std::string words_in(std::string_view text) {
    std::string all;
    for (const auto& term : trade_words_in(text)) all += (all.empty() ? "" : ", ") + term.word;
    return all;
}

}  // namespace

TEST_CASE("trade words are found whole, in any case, singular or plural, each once") {
    CHECK(words_in("Anchors and one ANCHOR") == "anchor");
    CHECK(words_in("the relief drips; Relief closed") == "relief");
    CHECK(words_in("A storey, threaded, restored, unearthed") == "");
    CHECK(words_in("cut-out works") == "cut-out");
    CHECK(words_in("") == "");
}

TEST_CASE("the longest phrase counts, not the words in it") {
    CHECK(words_in("Mixing valve turned") == "mixing valve");
    CHECK(words_in("Limiting valves, then a valve") == "limiting valve, valve");
    CHECK(words_in("Fault loop trips the breaker") == "fault loop, breaker");
}

TEST_CASE("a meaning is short and holds no trade word itself") {
    const auto all = trade_words_in(
        "anchor anode antifreeze absorber ballast batten bonded bracket breaker calibrated clamp "
        "collar collector concentrate controller cut-out downcomer drain earth expansion fixing "
        "flashed flashing flushed gauge glycol harness hook insulation jacket joint loop "
        "non-return port premix purlin rafter refractometer relief riser sensor stagnation store "
        "strainer thermosiphon thermostat thread tilt torque valve vent vessel cold feed "
        "discharge pipe vacuum break residual-current device tempering valve limiting valve");
    CHECK(all.size() > 50);
    for (const auto& term : all) {
        CAPTURE(term.word);
        CHECK(count_words(term.meaning) <= 6);
        CHECK(words_in(term.meaning) == "");
    }
}
