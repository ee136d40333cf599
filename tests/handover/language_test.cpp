// The customer's pages in another language: nothing is forgotten, and nothing runs over.
#include <doctest/doctest.h>

#include "handover/page_one_words.hpp"
#include "handover/plain_words.hpp"
#include "handover/report.hpp"
#include "handover/report_pages.hpp"
#include "handover/testing.hpp"
#include "language/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

constexpr const char* english_counts = "The pages in English are the evidence. Where this page differs, the English counts.";

/// Facts, names and the crew's words without a Latin letter, so that each one left is a text nobody looked up.
ReportInput without_letters() {
    ReportInput input = handover::testing::sample_report(0);
    input.language = language::testing::pseudo_language();
    input.job = "0031";
    input.company = "Ω 7";
    input.place = "14 Ψ";
    PageOne& page = input.page_one;
    for (auto* lines : {&page.fitted, &page.warranty, &page.call})
        for (auto& line : *lines) line = {"Σ 1", "Φ 2"};
    for (auto& date : page.care) date.what = "Δ 3";
    page.restrictions = {"Λ 4", "Λ 5", "Λ 6", "Λ 7"};
    page.fingerprint = std::string(64, '7');
    page.fingerprint_published = "Π 8";
    page.questions = {"Ξ 9"};
    page.unproven.clear();
    for (auto& item : input.nonconformities) {
        item.title = "Θ 1";
        if (!item.done.empty()) item.done = "Θ 2";
    }
    for (auto& item : input.deferrals) item.title = "Θ 3";
    return input;
}

bool has_plain_letter(const std::string& words) {
    return std::any_of(words.begin(), words.end(), [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); });
}

/// Words of the page that were not looked up.
std::vector<std::string> unmarked(const drawing::RecordedCanvas& canvas) {
    std::vector<std::string> all;
    for (const auto& text : drawing::texts_of(canvas)) {
        const bool evidence = std::string{english_counts}.find(text.words) != std::string::npos;
        if (has_plain_letter(text.words) && !evidence) all.push_back(text.words);
    }
    return all;
}

std::vector<ReportInput> every_page_one() {
    std::vector<ReportInput> all;
    for (const HandoverState state : {HandoverState::Full, HandoverState::Restricted, HandoverState::NotHandedOver, HandoverState::Practice}) {
        for (const Issue issue : {Issue::HandedOver, Issue::Draft}) {
            for (const bool plain : {true, false}) {
                ReportInput input = without_letters();
                input.page_one.state = state;
                input.page_one.issue = issue;
                if (plain) {
                    input.page_one.hottest_tap.clear();
                    input.page_one.fingerprint_published.clear();
                    input.page_one.warranty.clear();
                    input.page_one.unproven = {"Θ 4", "Θ 5", "Θ 6", "Θ 7"};
                    input.nonconformities.resize(1);
                    input.nonconformities[0].done.clear();
                    input.nonconformities[0].proving.clear();
                    input.plant.feed = std::nullopt;
                    input.plant.loop = std::nullopt;
                } else {
                    input.plant.feed = figures::FeedKind::Vented;
                    input.plant.loop = state == HandoverState::Full ? figures::LoopKind::Direct : figures::LoopKind::Indirect;
                }
                all.push_back(input);
            }
        }
    }
    return all;
}

}  // namespace

TEST_CASE("every text of page one was looked up") {
    for (const ReportInput& input : every_page_one()) {
        drawing::RecordedCanvas canvas;
        REQUIRE(draw_page_one(canvas, input, 7));
        for (const std::string& words : unmarked(canvas)) FAIL_CHECK("not looked up: ", words);
    }
}

TEST_CASE("page one with texts that are 40 % longer stays on its sheet, and no words lie on others") {
    for (const ReportInput& input : every_page_one()) {
        drawing::RecordedCanvas canvas;
        REQUIRE(draw_page_one(canvas, input, 7));
        const auto sheet = sheet_of(input.paper);
        for (const std::string& what : drawing::outside(canvas, {8, 8, sheet.width - 16, sheet.height - 16})) FAIL_CHECK("outside: ", what);
        for (const std::string& pair : drawing::colliding_texts(canvas)) FAIL_CHECK("on top of each other: ", pair);
    }
}

TEST_CASE("every text of what may be expected was looked up") {
    ReportInput input = without_letters();
    input.expectation.year = {{"Σ 1", "Φ 2"}};
    input.expectation.months = {{"Σ", 10.0, 20.0, 30.0}, {"Φ", 11.0, 21.0, 31.0}};
    input.expectation.today = {{"Σ 3", "Φ 4"}};
    input.expectation.see_for_yourself = {"Σ 5"};
    input.expectation.assumptions = {{"Σ 6", "Φ 7"}};
    input.expectation.left_out = {"Σ 8"};
    handover::testing::RecordedBook book;
    Flow flow{book, input.paper, {"", "", ""}};
    pour_expectation(flow, input);
    REQUIRE(book.pages() > 0);
    for (const auto& leaf : book.leaves)
        for (const std::string& words : unmarked(*leaf)) FAIL_CHECK("not looked up: ", words);
}

TEST_CASE("the meanings of words are the customer's, the words those of the evidence") {
    const auto say = language::testing::pseudo_language();
    for (const GlossaryTerm& term : standard_glossary(say)) CHECK_FALSE(has_plain_letter(term.meaning));
    CHECK(standard_glossary(say).front().word == "close-coupled");
    for (const GlossaryTerm& term : trade_words_in("relief valve, batten", say)) CHECK_FALSE(has_plain_letter(term.meaning));
}

TEST_CASE("beside the customer's page one stands the company's, and both say that the English counts") {
    ReportInput input = handover::testing::sample_report(0);
    input.company_page_one = input.page_one;
    input.language = language::testing::pseudo_language();
    handover::testing::RecordedBook book;
    REQUIRE(pour_report(book, input));
    CHECK(book.words_of_page(0).find("Handed over in full") == std::string::npos);
    CHECK(book.words_of_page(1).find("Handed over in full") != std::string::npos);
    CHECK(book.words_of_page(1).find("Which language counts?") == std::string::npos);
    const auto words = page_one_words(input);
    REQUIRE(words.which_counts.size() == 2);
    CHECK_FALSE(has_plain_letter(words.which_counts[0]));
    CHECK(words.which_counts[1] == english_counts);
    const auto sheet = sheet_of(input.paper);
    for (const auto& leaf : book.leaves) {
        for (const std::string& what : drawing::outside(*leaf, {8, 8, sheet.width - 16, sheet.height - 16})) FAIL_CHECK("outside: ", what);
        for (const std::string& pair : drawing::colliding_texts(*leaf)) FAIL_CHECK("on top of each other: ", pair);
    }
}

TEST_CASE("an English report has one page one and says nothing of languages") {
    ReportInput input = handover::testing::sample_report(0);
    CHECK(page_one_words(input).which_counts.empty());
    handover::testing::RecordedBook book;
    REQUIRE(pour_report(book, input));
    CHECK(book.words_of_page(1).find("Whom do you call?") == std::string::npos);
    input.language = language::testing::pseudo_language();  // and no page of the company beside it
    handover::testing::RecordedBook alone;
    REQUIRE(pour_report(alone, input));
    CHECK(alone.pages() == book.pages());
}

TEST_CASE("the file names the customer's language, and the pages of evidence name English") {
    ReportInput input = handover::testing::sample_report(0);
    const auto english = draw_report(input);
    REQUIRE(english);
    CHECK(english->find("/Lang (en)") != std::string::npos);
    CHECK(english->find("/Lang (en)", english->find("/Lang (en)") + 1) == std::string::npos);
    input.company_page_one = input.page_one;
    input.language = language::Language::by_rule("uk", [](std::string_view text) { return std::string{text}; });
    const auto both = draw_report(input);
    REQUIRE(both);
    CHECK(both->find("/Lang (uk)") != std::string::npos);
    std::size_t parts = 0;
    for (auto at = both->find("/Lang (en)"); at != std::string::npos; at = both->find("/Lang (en)", at + 1)) ++parts;
    CHECK(parts > 20);
}
