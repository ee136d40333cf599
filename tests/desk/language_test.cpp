// A customer's own language, from the facts of the house to page one, the calendar and the letter.
#include <string>

#include "desk/outbox.hpp"
#include "desk/report_of.hpp"
#include "desk/report_words.hpp"
#include "desk/testing.hpp"
#include "language/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

namespace {

handover::ReportInput input_of(Bench& bench, const language::Language& language) {
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    ReportSurroundings around;
    around.company = "Ω";
    around.date = "2026-11-25";
    around.language = language;
    return report_input(*hand, bench.view(), around);
}

bool has_plain_letter(const std::string& words) {
    return std::any_of(words.begin(), words.end(), [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); });
}

/// A language that says "lang:" before every text.
language::Language told_apart() {
    return language::Language::by_rule("uk", [](std::string_view english) { return "uk:" + std::string{english}; });
}

Bench bench_in(const std::string& code) { return Bench{house_facts("customer.language = \"" + code + "\"\nwarranty.until = 2030-01-31\n" + tools())}; }

}  // namespace

TEST_CASE("what page one says of the set, its care and its warranty is in the customer's language") {
    Bench bench{house_facts("warranty.until = 2030-01-31\n" + tools(), "crew.lead")};
    const auto input = input_of(bench, language::testing::pseudo_language());
    REQUIRE(input.page_one.fitted.size() >= 5);
    for (const auto& line : input.page_one.fitted) {
        CHECK_FALSE(has_plain_letter(line.label));
        CHECK_FALSE(has_plain_letter(line.text));
    }
    REQUIRE(input.page_one.care.size() >= 3);
    for (const auto& date : input.page_one.care) CHECK_FALSE(has_plain_letter(date.what));
    REQUIRE(input.page_one.warranty.size() == 1);
    CHECK_FALSE(has_plain_letter(input.page_one.warranty[0].label));
    CHECK_FALSE(has_plain_letter(input.page_one.call[0].text));
    REQUIRE(input.company_page_one);
    CHECK(input.company_page_one->fitted[0].label == "Collector");
    CHECK(input.company_page_one->care.size() == input.page_one.care.size());
    CHECK(input.company_page_one->state == input.page_one.state);
}

TEST_CASE("in English nothing is said twice") {
    Bench bench;
    const auto input = input_of(bench, {});
    CHECK_FALSE(input.company_page_one);
    CHECK(input.page_one.fitted[0].label == "Collector");
}

TEST_CASE("the language is that of the facts if it is there, else English") {
    const std::map<std::string, language::Language, std::less<>> there{{"uk", told_apart()}};
    for (const auto& [code, expected] : {std::pair{"uk", "uk"}, std::pair{"en", "en"}, std::pair{"de", "en"}}) {
        CAPTURE(code);
        Bench bench = bench_in(code);
        const auto hand = bench.desk().in_hand(bench.job);
        REQUIRE(hand);
        CHECK(language_of(*hand, there).code() == expected);
    }
    Bench silent;
    const auto hand = silent.desk().in_hand(silent.job);
    REQUIRE(hand);
    CHECK(language_of(*hand, there).is_english());
}

TEST_CASE("what is read out before signing, and the letter, are in the customer's language") {
    Bench bench = bench_in("uk");
    auto setup = testing::setup_in(bench.data(), bench.clock, "desk again");
    setup.languages = {{"uk", told_apart()}};
    bench.open_again(setup);
    const auto read_out = bench.desk().page_one(bench.job);
    REQUIRE(read_out);
    CHECK(read_out->front() == "uk:Not handed over yet");
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    const auto letter = handover_message(*hand, setup, {"full", 0}, "", "", "");
    CHECK(letter.subject == "uk:Handover report " + bench.job + " of your solar water heater");
    CHECK(letter.text.starts_with("uk:Dear Ansa Velmorrin,\n\nuk:your solar water heater is fitted, checked"));
}

TEST_CASE("a language that no catalogue is shipped for is refused when the facts are read") {
    testing::Folder folder;
    auto desk = Desk::open(testing::setup_in(folder.path() / "data", testing::Clock{}));
    REQUIRE(desk);
    CHECK_FALSE(desk->carry_out(OpenJob{"commissioning", house_facts("customer.language = \"xx\"\n" + tools()), "facts.toml", "", false}));
}

}  // namespace wm::desk
