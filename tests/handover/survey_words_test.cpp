// The survey report as a customer reads it, measured as page one of the handover is.
#include "handover/survey_words.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"
#include "handover/plain_words.hpp"
#include "handover/readability.hpp"
#include "handover/survey_sample.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;
using handover::testing::flesch_kincaid_grade;
using handover::testing::RecordedBook;
using handover::testing::sentences_of;
using handover::testing::spoken_words;
using handover::testing::survey_check_ids;
using handover::testing::survey_sample;

namespace {

/// Everything this room writes itself; not the tables of figures and what the words mean.
std::vector<std::string> prose_of(const SurveyWords& words) {
    std::vector<std::string> all{words.headline};
    for (const auto* list : {&words.verdict, &words.next, &words.sun, &words.shade, &words.checking})
        all.insert(all.end(), list->begin(), list->end());
    for (const auto* list : {&words.blocking, &words.conditions})
        for (const auto& item : *list) {
            all.push_back(item.found);
            all.push_back(item.cure);
        }
    for (const auto& caution : words.cautions) all.push_back(std::string{in_words(caution.signal)} + " " + caution.words);
    return all;
}

void expect_plain(const SurveyReport& report) {
    const auto words = survey_words(report);
    const auto prose = prose_of(words);
    for (const auto& paragraph : prose)
        for (const auto& sentence : sentences_of(paragraph)) {
            CAPTURE(sentence);
            CHECK(spoken_words(sentence).size() <= 20);
        }
    CHECK(flesch_kincaid_grade(prose) <= 6.0);
    for (const auto& paragraph : prose)
        for (const auto& term : trade_words_in(paragraph)) {
            const bool explained = std::any_of(words.terms.begin(), words.terms.end(), [&](const auto& known) { return known.word == term.word; });
            if (!explained) FAIL_CHECK("nobody says what this means: ", term.word, " in: ", paragraph);
        }
    for (const auto& paragraph : prose)
        for (const std::string promise : {"will save", "guarantee", "will bring"}) CHECK(paragraph.find(promise) == std::string::npos);
}

std::string joined_words(const SurveyReport& report) {
    std::string all;
    for (const auto& paragraph : prose_of(survey_words(report))) all += paragraph + "\n";
    return all;
}

}  // namespace

TEST_CASE("whatever a survey found, its report is short, plain and explained") {
    for (const auto suited : {Suited::Yes, Suited::WithConditions, Suited::No}) expect_plain(survey_sample(suited));
    // One finding at a time, in each way it can come out, blocking and not.
    for (const auto& id : survey_check_ids())
        for (const auto how : {FoundHow::Wrong, FoundHow::Unsure, FoundHow::PutOff, FoundHow::Accepted}) {
            CAPTURE(id);
            CAPTURE(static_cast<int>(how));
            CHECK(has_survey_words(id));
            auto report = survey_sample(Suited::No);
            report.blocking = {{.check_id = id, .title = "Title", .how = how, .until = "2027-03-11", .on_fail = "Remedy."}};
            expect_plain(report);
            report = survey_sample(Suited::WithConditions);
            report.conditions = {{.check_id = id, .title = "Title", .how = how, .until = "", .on_fail = "Remedy."}};
            expect_plain(report);
        }
    for (const bool with_line : {true, false})
        for (const std::optional<int> read : {std::optional<int>{}, std::optional<int>{0}, std::optional<int>{18}}) {
            auto report = survey_sample(Suited::Yes);
            if (!with_line) report.shade.clear();
            report.shade_read = read;
            report.of_best_plane = with_line ? 99 : 71;
            expect_plain(report);
            report.sun_band.clear();
            report.surveyor.clear();
            report.practice = !with_line;
            expect_plain(report);
        }
}

TEST_CASE("each sentence on a finding is plain by itself") {
    for (const auto& id : survey_check_ids()) {
        CAPTURE(id);
        auto report = survey_sample(Suited::No);
        report.blocking = {{.check_id = id, .title = "", .how = FoundHow::Wrong, .until = "", .on_fail = ""}};
        const auto words = survey_words(report);
        CHECK(flesch_kincaid_grade({words.blocking[0].found, words.blocking[0].cure}) <= 6.0);
        CHECK(trade_words_in(words.blocking[0].found + " . " + words.blocking[0].cure).empty());
    }
}

TEST_CASE("the verdict, what blocks and what comes next agree with each other") {
    const auto yes = joined_words(survey_sample(Suited::Yes));
    CHECK(yes.find("Nothing stands in the way of a date.") != std::string::npos);
    CHECK(yes.find("agree on a day") != std::string::npos);
    const auto some = joined_words(survey_sample(Suited::WithConditions));
    CHECK(some.find("if the points below are kept") != std::string::npos);
    const auto no = joined_words(survey_sample(Suited::No));
    CHECK(no.find("We may not set a date yet.") != std::string::npos);
    CHECK(no.find("agree on a day") == std::string::npos);
    CHECK(no.find("A date can be set") == std::string::npos);
    for (const auto& text : {yes, some, no}) {
        CHECK(text.find("no promise") != std::string::npos);
        CHECK(text.find("DRAFT") == std::string::npos);
    }
    auto draft = survey_sample(Suited::Yes);
    draft.surveyor.clear();
    CHECK(joined_words(draft).find("DRAFT: nobody has signed this yet.") != std::string::npos);
    draft.practice = true;
    CHECK(joined_words(draft).find("Your house suits") == std::string::npos);
}

TEST_CASE("who lives there is warned of what was found, and of nothing that was not") {
    auto report = survey_sample(Suited::No);
    const auto warned = [&](const std::string& words) {
        for (const auto& caution : survey_words(report).cautions)
            if (caution.words.find(words) != std::string::npos) return true;
        return false;
    };
    const std::vector<std::pair<std::string, std::string>> rows = {
        {"heater-relief", "Leave the heater off"}, {"elec-ready", "Touch no bare wire"}, {"asbestos-suspect", "Do not drill"},
        {"access-safe", "far from bare wires"},    {"roof-soundness", "nothing heavy"}};
    for (const auto& [id, words] : rows) {
        CAPTURE(id);
        report.blocking = {{.check_id = id, .title = "", .how = FoundHow::Wrong, .until = "", .on_fail = ""}};
        for (const auto& [other, says] : rows) CHECK(warned(says) == (other == id));
        CHECK(warned("Do not go on the roof"));
    }
}

TEST_CASE("a check of another list is told by its title and its remedy, with its trade words explained") {
    auto report = survey_sample(Suited::No);
    report.blocking = {{.check_id = "pump-noise", .title = "Anchor holds", .how = FoundHow::Wrong, .until = "", .on_fail = "Move the pump."}};
    const auto words = survey_words(report);
    REQUIRE(words.blocking.size() == 1);
    CHECK(words.blocking[0].found == "Anchor holds.");
    CHECK(words.blocking[0].cure == "Move the pump.");
    CHECK(std::any_of(words.terms.begin(), words.terms.end(), [](const auto& term) { return term.word == "anchor"; }));
}

TEST_CASE("the report takes two pages at most, four where nothing is sure, and nothing collides or leaves the sheet") {
    for (const auto paper : {PaperSize::A4, PaperSize::Letter})
        for (int kind = 0; kind < 5; ++kind) {
            CAPTURE(kind);
            auto report = survey_sample(kind == 0 ? Suited::Yes : kind == 1 ? Suited::WithConditions : Suited::No);
            report.paper = paper;
            if (kind >= 3) {
                report.place = "Maximilienne Featherstonehaughworthington, Bartholomew and their five children, 14 Dovetail Steps, Ostervaun";
                report.company = "The Lanternfold Terraces Housing Co-operative of Upper and Lower Sill, Department of Warm Water";
                report.surveyor = "Wilhelmina-Theodosia Quellingham-Osterrath of the Upper Terraces";
                report.contact = report.company + ", 555-0100";
            }
            if (kind == 4) {
                report.blocking.clear();
                for (const auto& id : survey_check_ids())
                    report.blocking.push_back({.check_id = id, .title = "", .how = FoundHow::Unsure, .until = "", .on_fail = ""});
            }
            RecordedBook book;
            pour_survey(book, report);
            CHECK(book.pages() <= (kind == 4 ? 4 : 2));
            for (const auto& leaf : book.leaves) {
                for (const auto& pair : drawing::colliding_texts(*leaf)) FAIL_CHECK(pair);
                for (const auto& what : drawing::outside(*leaf, sheet_of(paper))) FAIL_CHECK(what);
            }
            CHECK(book.words_of_page(0).find(survey_words(report).headline) != std::string::npos);
            CHECK(book.all_words().find("Is this paper genuine?") != std::string::npos);
        }
}

TEST_CASE("the chart stands on the paper only where a horizon line was entered") {
    auto report = survey_sample(Suited::Yes);
    const auto bars = [&] {
        RecordedBook book;
        pour_survey(book, report);
        int months = 0;
        for (const auto& leaf : book.leaves)
            for (const auto& text : drawing::texts_of(*leaf)) months += text.words == "Dec" ? 1 : 0;
        return months;
    };
    CHECK(bars() == 1);
    report.shade.clear();
    CHECK(bars() == 0);
}

TEST_CASE("the file is a PDF whose same input gives the same bytes") {
    const auto one = draw_survey(survey_sample(Suited::No));
    REQUIRE_MESSAGE(one, (one ? "" : told(one.error())));
    CHECK(one->starts_with("%PDF-"));
    CHECK(*one == *draw_survey(survey_sample(Suited::No)));
}
