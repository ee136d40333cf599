#include "handover/readability.hpp"

#include <doctest/doctest.h>

using namespace wm::handover::testing;

TEST_CASE("syllables are never counted too low, and rarely too high") {
    // Source: CMU Pronouncing Dictionary 0.4 (vowels that carry stress marks), Carnegie Mellon
    // University, as in Debian's festlex-cmu 2.4.
    struct Row {
        const char* word;
        int syllables;
    };
    const Row rows[] = {
        {"a", 1}, {"below", 2}, {"block", 1}, {"boiling", 2}, {"call", 1}, {"car", 1},
        {"check", 1}, {"child", 1}, {"code", 1}, {"climb", 1}, {"company", 3}, {"crew", 1},
        {"dangerous", 3}, {"dial", 2}, {"electric", 3}, {"every", 3}, {"finished", 2},
        {"fluid", 2}, {"freeze", 1}, {"frost", 1}, {"germs", 1}, {"glass", 1}, {"grow", 1},
        {"heater", 2}, {"hottest", 2}, {"kill", 1}, {"lukewarm", 2}, {"measured", 2},
        {"must", 1}, {"never", 2}, {"nobody", 3}, {"number", 2}, {"open", 2}, {"paper", 2},
        {"passed", 1}, {"pipe", 1}, {"poison", 2}, {"proof", 1}, {"proves", 1}, {"published", 2},
        {"reader", 2}, {"ready", 2}, {"roof", 1}, {"safe", 1}, {"safety", 2}, {"seal", 1},
        {"square", 1}, {"still", 1}, {"tank", 1}, {"taps", 1}, {"trade", 1}, {"valid", 2},
        {"valve", 1}, {"warning", 2}, {"wash", 1}, {"water", 2}, {"wire", 2}, {"antifreeze", 3},
        {"collector", 3}, {"controller", 3}, {"electricity", 5}, {"insulation", 4},
        {"pressure", 2}, {"thermostat", 3}, {"temperature", 3}};
    int exact = 0;
    for (const Row& row : rows) {
        CAPTURE(row.word);
        CHECK(syllables(row.word) >= row.syllables);
        if (syllables(row.word) == row.syllables) ++exact;
    }
    CHECK(exact * 100 >= 95 * static_cast<int>(std::size(rows)));
}

TEST_CASE("figures count as they are spoken") {
    CHECK(syllables("45") >= 3);  // for-ty-five
    CHECK(syllables("46.4") >= 4);
    CHECK(syllables("°c") == 3);
    CHECK(syllables("pdf") == 3);
}

TEST_CASE("sentences end at a stop before a space, not inside a figure") {
    CHECK(sentences_of("It gave 46.4 °C. Is it safe? Yes! no stop").size() == 4);
    CHECK(sentences_of("").empty());
    CHECK(spoken_words("one - two: 3 °C").size() == 4);
}

TEST_CASE("the grade of a text is that of the formula") {
    // By hand: 6 words in 1 sentence, 6 syllables: 0.39 × 6 + 11.8 − 15.59.
    CHECK(std::abs(flesch_kincaid_grade({"The cat sat on the mat."}) - (-1.45)) < 1e-9);
    // 4 words in 2 sentences, 3 + 4 + 4 + 3 syllables.
    CHECK(std::abs(flesch_kincaid_grade({"Electric insulation. Temperature controller."}) -
                   (0.39 * 2 + 11.8 * 14 / 4.0 - 15.59)) < 1e-9);
}
