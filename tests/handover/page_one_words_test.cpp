#include "handover/page_one_words.hpp"

#include <doctest/doctest.h>

#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

std::vector<std::string> all_prose(const PageOneWords& words) {
    std::vector<std::string> all{words.headline};
    for (const auto* part : {&words.outcome, &words.hot_water, &words.checking}) {
        all.insert(all.end(), part->begin(), part->end());
    }
    for (const auto& sentence : words.never) {
        all.push_back(std::string{in_words(sentence.signal)} + " " + sentence.words);
    }
    for (const auto& term : words.terms) all.push_back(term.word + " " + term.meaning);
    return all;
}

std::vector<ReportInput> every_kind() {
    std::vector<ReportInput> inputs;
    for (const HandoverState state :
         {HandoverState::Full, HandoverState::Restricted, HandoverState::NotHandedOver, HandoverState::Practice}) {
        using Feed = std::optional<figures::FeedKind>;
        using Loop = std::optional<figures::LoopKind>;
        for (const Feed feed : {Feed{figures::FeedKind::Mains}, Feed{figures::FeedKind::Vented}, Feed{}}) {
            for (const Loop loop : {Loop{figures::LoopKind::Direct}, Loop{figures::LoopKind::Indirect}, Loop{}}) {
                for (const char* hottest : {"", "46.4 °C"}) {
                    ReportInput input;
                    input.page_one.state = state;
                    input.page_one.hottest_tap = hottest;
                    input.page_one.hottest_allowed = "50 °C";
                    input.plant.feed = feed;
                    input.plant.loop = loop;
                    input.page_one.restrictions.assign(
                        5, std::string(40, 'x') + std::string(60, ' ') +
                               "one two three four five six seven eight "
                               "nine ten eleven twelve thirteen fourteen "
                               "fifteen sixteen seventeen eighteen "
                               "nineteen twenty twentyone");
                    inputs.push_back(input);
                    input.page_one.issue = Issue::Draft;
                    input.page_one.unproven = {"One", "Two", "Three", "Four"};
                    inputs.push_back(input);
                }
            }
        }
    }
    return inputs;
}

}  // namespace

TEST_CASE("page one holds at most 150 words of prose, whatever is handed over") {
    for (const ReportInput& input : every_kind()) {
        int words = 0;
        for (const auto& sentence : all_prose(page_one_words(input)))
            words += count_words(sentence);
        CAPTURE(words);
        CHECK(words <= most_prose_words);
    }
}

TEST_CASE("no sentence of page one is longer than 20 words") {
    for (const ReportInput& input : every_kind()) {
        for (const auto& sentence : all_prose(page_one_words(input))) {
            CAPTURE(sentence);
            CHECK(count_words(sentence) <= most_sentence_words);
        }
    }
}

TEST_CASE(
    "a set that is not handed over is never called ready, and no tap is released unmeasured") {
    for (const ReportInput& input : every_kind()) {
        std::string all;
        for (const auto& sentence : all_prose(page_one_words(input))) all += sentence + " ";
        CAPTURE(all);
        if (input.page_one.state != HandoverState::Full) {
            CHECK(all.find("ready to use") == std::string::npos);
            CHECK(all.find("passed") == std::string::npos);
        }
        if (input.page_one.hottest_tap.empty()) CHECK(all.find("gave") == std::string::npos);
    }
}

TEST_CASE("words are counted between spaces and need a letter or digit") {
    CHECK(count_words("") == 0);
    CHECK(count_words(" -- one 2 , three! ") == 3);
    CHECK(count_words("60 °C\nor more") == 4);
}

TEST_CASE("nothing is called safe or ready while a safety check is not done, and those checks are named") {
    ReportInput input;
    auto words = page_one_words(input);
    CHECK(words.outcome[0] == "Is it safe? Yes. It passed every safety check.");
    CHECK(words.outcome[1] == "Is it finished? Yes. It is ready to use.");
    CHECK(words.unproven.empty());
    input.page_one.unproven = {"Nobody falls"};
    for (const bool later : {false, true}) {
        if (later) input.deferrals = {{"a", "First", "2027-03-11", "Ode", "rain"}};
        words = page_one_words(input);
        CHECK(words.outcome[0] == "Is it safe? Not all is checked yet. 1 safety check is not done yet.");
        CHECK(words.unproven == "Not done yet: Nobody falls.");
        for (const auto& sentence : words.outcome) {
            CHECK(sentence.find("ready to use") == std::string::npos);
            CHECK(sentence.find("finished? Yes") == std::string::npos);
        }
    }
    input.page_one.unproven = {"One", "Two", "Three", "Four", "Five"};
    CHECK(page_one_words(input).unproven == "Not done yet: One; Two; Three; 2 more.");
    input.page_one.state = HandoverState::Practice;
    CHECK(page_one_words(input).unproven.empty());
}

TEST_CASE("before the handover page one says what it will be, never that it was") {
    for (ReportInput input : every_kind()) {
        input.page_one.issue = Issue::Draft;
        std::string all;
        for (const auto& sentence : all_prose(page_one_words(input))) all += sentence + " ";
        CAPTURE(all);
        CHECK(all.find("Handed over") == std::string::npos);
        CHECK(all.find("ready to use") == std::string::npos);
        if (input.page_one.state != HandoverState::Practice) CHECK(all.starts_with("Not handed over yet"));
    }
}

TEST_CASE("page one names each check once, by what is open of it or was done last, and no slips") {
    const std::vector<Nonconformity> all = {{"a", "First", "P", "", "", "Turned", "yes"},
                                            {"b", "Second", "P", "", "", "Taken back", "", true},
                                            {"a", "First", "P", "", "", "Turned again", "yes"},
                                            {"c", "Third", "P", "", "", "", ""},
                                            {"c", "Third", "P", "", "", "Glued", "yes"}};
    const auto kept = one_for_each_check(all);
    REQUIRE(kept.size() == 2);
    CHECK(kept[0].done == "Turned again");
    CHECK(kept[1].title == "Third");
    CHECK(kept[1].done.empty());
    ReportInput input;
    input.nonconformities = all;
    const auto words = page_one_words(input);
    CHECK(words.corrections.size() == 2);
    CHECK(words.more_corrections == 0);
}

TEST_CASE("what must never be done follows the kind of system, the deadliest first") {
    ReportInput input;
    input.plant.loop = figures::LoopKind::Direct;
    input.plant.feed = figures::FeedKind::Vented;
    auto never = page_one_words(input).never;
    REQUIRE(never.size() == 4);
    CHECK(never[0].signal == Signal::Danger);
    CHECK(never[1].words == "Never close the open pipe. The tank could burst.");
    CHECK(in_words(never[3].signal) == "NOTICE");
    CHECK(never[3].words == "Never leave the collector full in frost. Ask us to empty it.");
    input.plant.loop = figures::LoopKind::Indirect;
    input.plant.feed = figures::FeedKind::Mains;
    never = page_one_words(input).never;
    CHECK(never[1].words == "Never block the safety pipe. It can spit boiling water.");
    CHECK(in_words(never[3].signal) == "WARNING");
    CHECK(never[3].words.find("antifreeze") != std::string::npos);
    for (const auto& sentence : never) CHECK(sentence.words.starts_with("Never "));
    // Of two that nobody has told apart, the page warns of both.
    input.plant.loop.reset();
    input.plant.feed.reset();
    never = page_one_words(input).never;
    REQUIRE(never.size() == 4);
    CHECK(never[1].words == "Never block a safety pipe or close an open pipe.");
    CHECK(never[3].words == "Never refill or empty the collector yourself. Ask us before frost.");
}

TEST_CASE("the worst corrections come first, the open ones before all") {
    ReportInput input;
    input.nonconformities = {{"a", "First", "P", "", "", "done", "yes"},
                             {"b", "Second", "H", "", "", "done", "yes"},
                             {"c", "Third", "R", "", "", "", ""},
                             {"d", "Fourth", "D", "", "", "done", "yes"}};
    const auto words = page_one_words(input);
    REQUIRE(words.corrections.size() == 3);
    CHECK(words.corrections[0].title == "Third");
    CHECK(words.corrections[0].done == "still open");
    CHECK(words.corrections[1].title == "Second");
    CHECK(words.corrections[2].title == "Fourth");
    CHECK(words.more_corrections == 1);
}

TEST_CASE("a failure without a correction says what became of it") {
    ReportInput input;
    input.nonconformities = {{"a", "First", "P", "", "", "", ""}, {"b", "Second", "P", "", "", "", ""}};
    input.deferrals = {{"a", "First", "2027-03-11", "Ode", "rain"}};
    input.concessions = {{"b", "Second", "Odrun", "the rafters"}};
    const auto words = page_one_words(input);
    CHECK(words.corrections[0].done == "to be checked again by 2027-03-11");
    CHECK(words.corrections[1].done == "accepted as it is");
}

TEST_CASE("trade words of the page are explained, unless a row of what is fitted does") {
    ReportInput input;
    input.page_one.fitted = {{"Collector", "glass box that catches the sun"}};
    input.nonconformities = {
        {"a", "Collector clamps tightened", "P", "", "", "Thread greased", "yes"}};
    std::string explained;
    for (const auto& term : page_one_words(input).terms) explained += term.word + " ";
    CHECK(explained == "loop antifreeze clamp thread ");
}

TEST_CASE("care is never crowded out by checks that are still to be made") {
    ReportInput input;
    for (const char* day : {"1", "2", "3", "4"}) {
        input.page_one.care.push_back({std::string{"2027-03-0"} + day, "the crew still checks: roof",
                                       std::string{"check-"} + day, std::string{"check "} + day});
    }
    input.page_one.care.push_back({"2027-04-04", "first visit", "first-visit"});
    const auto care = page_one_words(input).care;
    REQUIRE(care.size() == 3);
    CHECK(care[1].date == "2027-03-02");
    CHECK(care[2].what == "first visit");
}

TEST_CASE("a practice paper says so in its headline and answers no question of safety") {
    ReportInput input;
    input.page_one.state = HandoverState::Practice;
    input.page_one.hottest_tap = "46.4 °C";
    input.page_one.hottest_allowed = "50 °C";
    const auto words = page_one_words(input);
    CHECK(words.headline.find("Practice") != std::string::npos);
    std::string all;
    for (const auto& sentence : all_prose(words)) all += sentence + " ";
    CHECK(all.find("safe? Yes") == std::string::npos);
    CHECK(all.find("46.4") == std::string::npos);
    CHECK(in_words(HandoverState::Practice) == "practice");
}
