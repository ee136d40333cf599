#include "desk/week_questions.hpp"

#include <doctest/doctest.h>

namespace wm::desk {

TEST_CASE("each kind of question names whom it is put to, in one line that ends") {
    for (const char* kind : {"neighbours differ", "complaint and survey", "equal readings", "pace", "one photo twice", "came back", "clock", "device", "loss",
                             "a kind to come"}) {
        CAPTURE(kind);
        const WeekQuestionView question{kind, "Ilka Trosmere", "anchor-torque", "It is so. Why?", "Ask.", {"J-1", "J-2"}};
        const auto line = in_short(question, "Torque of each anchor");
        CAPTURE(line);
        // A device goes by the first eight signs of its number.
        CHECK(line.find("Ilka Tro") != std::string::npos);
        CHECK(line.ends_with("."));
        const std::string name = kind;
        CHECK(is_about_frost(question) == (name == "neighbours differ" || name == "complaint and survey"));
    }
}

TEST_CASE("what bursts when it freezes is told with the street, and not where nothing does") {
    WeekQuestionView question{"neighbours differ", "Millpond Hollow", "", "Homes differ. Neighbours share one climate.", "Find out.", {"J-1"}};
    CHECK(in_short(question, "") == "Settle the frost class of Millpond Hollow before the first frost: neighbours were surveyed differently.");
    question.sentence += " 6 of those taken for \"none\" have a direct system, which bursts when it freezes.";
    CHECK(in_short(question, "").ends_with("6 of those taken for \"none\" have a direct system, which bursts when it freezes."));
}

}  // namespace wm::desk
