#include "handover/page_one_words.hpp"

#include <doctest/doctest.h>

#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

std::vector<std::string> all_prose(const PageOneWords& words) {
    std::vector<std::string> all{words.headline};
    for (const auto* part : {&words.outcome, &words.hot_water, &words.never, &words.checking}) {
        all.insert(all.end(), part->begin(), part->end());
    }
    return all;
}

std::vector<ReportInput> every_kind() {
    std::vector<ReportInput> inputs;
    for (const HandoverState state :
         {HandoverState::Full, HandoverState::Restricted, HandoverState::NotHandedOver}) {
        for (const figures::FeedKind feed : {figures::FeedKind::Mains, figures::FeedKind::Vented}) {
            for (const figures::LoopKind loop :
                 {figures::LoopKind::Direct, figures::LoopKind::Indirect}) {
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
            CHECK(all.find("ready for use") == std::string::npos);
        }
        if (input.page_one.hottest_tap.empty()) CHECK(all.find("gave") == std::string::npos);
    }
}

TEST_CASE("words are counted between spaces and need a letter or digit") {
    CHECK(count_words("") == 0);
    CHECK(count_words(" -- one 2 , three! ") == 3);
    CHECK(count_words("60 °C\nor more") == 4);
}
