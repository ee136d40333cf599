// The leaflet as the household reads it, on every kind of set, measured as page one of the handover is.
#include "handover/leaflet_words.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"
#include "handover/leaflet_sample.hpp"
#include "handover/plain_words.hpp"
#include "handover/readability.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;
using figures::FeedKind;
using figures::LoopKind;
using handover::testing::flesch_kincaid_grade;
using handover::testing::leaflet_sample;
using handover::testing::leaflets_of_every_kind;
using handover::testing::RecordedBook;
using handover::testing::sentences_of;
using handover::testing::spoken_words;

namespace {

/// Everything this room writes itself: not the household's own words, nor what a trade word means.
std::vector<std::string> prose_of(const LeafletWords& words) {
    std::vector<std::string> all{words.headline};
    for (const auto* list : {&words.about, &words.emergency, &words.normal, &words.call_us, &words.holiday, &words.frost, &words.glass, &words.shown, &words.who})
        all.insert(all.end(), list->begin(), list->end());
    for (const auto& caution : words.cautions) all.push_back(std::string{in_words(caution.signal)} + " " + caution.words);
    for (const auto& row : words.settings) all.push_back(row.mind);
    return all;
}

std::string text_of(const Leaflet& leaflet) {
    std::string all;
    for (const auto& sentence : prose_of(leaflet_words(leaflet))) all += sentence + "\n";
    return all;
}

bool says(const Leaflet& leaflet, const std::string& words) { return text_of(leaflet).find(words) != std::string::npos; }

const LeafletSetting* row_of(const LeafletWords& words, const std::string& what) {
    for (const auto& row : words.settings)
        if (row.what == what) return &row;
    return nullptr;
}

}  // namespace

TEST_CASE("whatever the set, its leaflet is short, plain and explained, and promises nothing") {
    for (const auto& leaflet : leaflets_of_every_kind()) {
        const auto words = leaflet_words(leaflet);
        const auto prose = prose_of(words);
        for (const auto& paragraph : prose) {
            for (const auto& sentence : sentences_of(paragraph)) {
                CAPTURE(sentence);
                CHECK(spoken_words(sentence).size() <= 20);
            }
            for (const auto& term : trade_words_in(paragraph)) {
                const bool explained = std::any_of(words.terms.begin(), words.terms.end(), [&](const auto& known) { return known.word == term.word; });
                if (!explained) FAIL_CHECK("nobody says what this means: ", term.word, " in: ", paragraph);
            }
            for (const std::string promise : {"guarantee", "will save", "always safe", "cannot burst", "will not"})
                if (paragraph != "The switch of the heater will not stay on. Do not try again.") CHECK(paragraph.find(promise) == std::string::npos);
        }
        CHECK(flesch_kincaid_grade(prose) <= 6.0);
        // Each part by itself, so that a hard one does not hide behind the easy ones.
        for (const auto* list : {&words.about, &words.emergency, &words.normal, &words.call_us, &words.holiday, &words.frost, &words.glass, &words.shown}) {
            CAPTURE(list->front());
            CHECK(flesch_kincaid_grade(*list) <= 6.0);
        }
    }
}

TEST_CASE("work on the set is left to those who may do it, and nobody is sent up") {
    for (const auto& leaflet : leaflets_of_every_kind()) {
        CHECK(says(leaflet, "person with a licence"));
        CHECK(says(leaflet, "Never go on the roof"));
        CHECK(says(leaflet, "book of the maker come before this paper"));
        const auto words = leaflet_words(leaflet);
        REQUIRE(!words.cautions.empty());
        for (std::size_t i = 1; i < words.cautions.size(); ++i) CHECK(words.cautions[i - 1].signal <= words.cautions[i].signal);
        CHECK(words.cautions.front().signal == Signal::Danger);
    }
}

TEST_CASE("each kind of set is told of what it has, and of nothing it has not") {
    auto leaflet = leaflet_sample();
    leaflet.plant.loop = LoopKind::Indirect;
    leaflet.plant.feed = FeedKind::Mains;
    CHECK(says(leaflet, "A fluid that stands frost"));
    CHECK(says(leaflet, "The fluid froze at −20 °C"));
    CHECK(says(leaflet, "Never block the safety pipe"));
    CHECK_FALSE(says(leaflet, "open pipe"));
    CHECK_FALSE(says(leaflet, "small box"));
    CHECK_FALSE(says(leaflet, "We empty the glass box"));
    leaflet.plant.loop = LoopKind::Direct;
    leaflet.plant.feed = FeedKind::Vented;
    leaflet.controller = ControllerKind::Timer;
    CHECK(says(leaflet, "gets warm in the glass box itself"));
    CHECK(says(leaflet, "We empty the glass box."));
    CHECK(says(leaflet, "Never close the open pipe"));
    CHECK(says(leaflet, "after the hours of sun"));
    CHECK_FALSE(says(leaflet, "fluid"));
    CHECK_FALSE(says(leaflet, "safety pipe"));
    CHECK_FALSE(says(leaflet, "gurgle"));
    CHECK(row_of(leaflet_words(leaflet), "Water pressure") == nullptr);
    CHECK(row_of(leaflet_words(leaflet), "The fluid freezes at") == nullptr);
    leaflet.frost = false;
    CHECK(says(leaflet, "Frost is not usual here"));
}

TEST_CASE("where nobody stated the kind, the sentence is right for both, or sends the reader to ask") {
    auto leaflet = leaflet_sample();
    leaflet.plant.loop.reset();
    leaflet.plant.feed.reset();
    CHECK(says(leaflet, "Ask us which kind of set you have."));
    CHECK(says(leaflet, "Never block a safety pipe or close an open pipe."));
    CHECK(says(leaflet, "Ask us before the first frost what your set can stand."));
    CHECK_FALSE(says(leaflet, "The fluid froze"));
    CHECK_FALSE(says(leaflet, "gets warm in the glass box itself"));
}

TEST_CASE("a drip is called normal only where the growing water goes that way") {
    auto leaflet = leaflet_sample();
    leaflet.plant.feed = FeedKind::Mains;
    const std::vector<std::pair<std::optional<GrowingWater>, std::string>> rows = {
        {GrowingWater::SeenDrain, "A few drops at the safety pipe while the sun heats."},
        {GrowingWater::Vessel, "No drops at the safety pipe. A small tank"},
        {GrowingWater::BackToMain, "No drops at the safety pipe. What needs more room goes back"},
        {std::nullopt, "Ask us if a few drops"}};
    for (const auto& [way, words] : rows) {
        leaflet.growing = way;
        for (const auto& [other, sentence] : rows) {
            CAPTURE(sentence);
            CHECK(says(leaflet, sentence) == (other == way));
        }
    }
}

TEST_CASE("what nobody measured is called so, and unmeasured taps come before all else") {
    auto leaflet = leaflet_sample();
    leaflet.set = {};
    const auto words = leaflet_words(leaflet);
    for (const auto& row : words.settings) {
        CAPTURE(row.what);
        CHECK(row.value == "not on record");
        CHECK(row.mind == "Ask us for it.");
    }
    CHECK(words.settings.size() >= 5);
    CHECK(words.cautions.front().words.find("Nobody has measured your taps.") != std::string::npos);
    CHECK(says(leaflet, "Nobody has measured how much frost the fluid stands."));
    CHECK_FALSE(says(leaflet_sample(), "Nobody has measured"));
    const auto measured = leaflet_words(leaflet_sample());
    CHECK(row_of(measured, "Electric heater")->value == "65 °C");
    CHECK(row_of(measured, "Hottest washing tap")->value == "46 °C, at most 50 °C");
    CHECK(row_of(measured, "Water pressure")->value == "350 kPa (3.5 bar)");
}

TEST_CASE("a draft, a practice paper and an unheard household are called what they are") {
    auto leaflet = leaflet_sample();
    CHECK(leaflet_words(leaflet).headline == "How to live with your set");
    leaflet.shown = false;
    CHECK(says(leaflet, "Nobody has noted that you were shown all seven things yet."));
    CHECK_FALSE(says(leaflet, "We showed you"));
    leaflet.finished = false;
    CHECK(leaflet_words(leaflet).headline == "Draft: not finished yet");
    leaflet.practice = true;
    CHECK(leaflet_words(leaflet).headline == "Practice: nothing was fitted");
}

TEST_CASE("the household's own words stand as they were said, cut where they are very long") {
    auto leaflet = leaflet_sample();
    CHECK(leaflet_words(leaflet).said == leaflet.own_words);
    leaflet.own_words.clear();
    for (int i = 0; i < 80; ++i) leaflet.own_words += "word ";
    CHECK(leaflet_words(leaflet).said.ends_with("…"));
    CHECK(count_words(leaflet_words(leaflet).said) <= most_own_words);
}

TEST_CASE("the leaflet is one sheet whatever the set, and nothing collides or leaves it") {
    for (const auto paper : {PaperSize::A4, PaperSize::Letter})
        for (auto leaflet : leaflets_of_every_kind()) {
            leaflet.paper = paper;
            if (leaflet.vulnerable) {
                leaflet.place = "Maximilienne Featherstonehaughworthington, Bartholomew and their five children, 14 Dovetail Steps, Ostervaun";
                leaflet.company = "The Lanternfold Terraces Housing Co-operative of Upper and Lower Sill, Department of Warm Water";
                leaflet.fitted_by = "Wilhelmina-Theodosia Quellingham-Osterrath of the Upper Terraces";
                leaflet.own_words.clear();
                for (int i = 0; i < 80; ++i) leaflet.own_words += "everything ";
                leaflet.care.push_back({"2028-11-25", "rod that keeps the tank from rust", "anode", ""});
                leaflet.care.push_back({"2027-10-25", "frost check of the fluid, before the first frost", "frost-check", ""});
            }
            RecordedBook book;
            pour_leaflet(book, leaflet);
            CAPTURE(book.words_of_page(book.leaves.size() - 1));
            CHECK(book.pages() <= 2);
            for (const auto& leaf : book.leaves) {
                for (const auto& pair : drawing::colliding_texts(*leaf)) FAIL_CHECK(pair);
                for (const auto& what : drawing::outside(*leaf, sheet_of(paper))) FAIL_CHECK(what);
            }
            CHECK(book.words_of_page(0).find(leaflet_words(leaflet).headline) != std::string::npos);
            CHECK(book.all_words().find("Whom do you call?") != std::string::npos);
        }
}

TEST_CASE("the leaflet is a PDF whose same input gives the same bytes") {
    const auto one = draw_leaflet(leaflet_sample());
    REQUIRE_MESSAGE(one, (one ? "" : told(one.error())));
    CHECK(one->starts_with("%PDF-"));
    CHECK(one->ends_with("%%EOF\n"));
    CHECK(*one == *draw_leaflet(leaflet_sample()));
}
