#include "language/language.hpp"

#include <doctest/doctest.h>

#include "language/testing.hpp"

using namespace wm::language;

TEST_CASE("English stands in the code and needs no catalogue") {
    const Language english;
    CHECK(english.is_english());
    CHECK(english.code() == "en");
    CHECK(english.text("Whom do you call?") == "Whom do you call?");
    CHECK(english.text("outcome", "open") == "open");
    CHECK(english.date("2027-03-04") == "2027-03-04");
    CHECK(english.amount("1234.5 kWh") == "1234.5 kWh");
    CHECK(english.counted("{n} check", "{n} checks", 1) == "{n} check");
    CHECK(english.counted("{n} check", "{n} checks", 0) == "{n} checks");
}

TEST_CASE("names are filled in wherever a translation puts them, and what is filled in is left alone") {
    CHECK(filled("{a} and {b}", {{"a", "1"}, {"b", "2"}}) == "1 and 2");
    CHECK(filled("{b}, {a}, {b}", {{"a", "{b}"}, {"b", "2"}}) == "2, {b}, 2");
    CHECK(filled("{c} {", {{"a", "1"}}) == "{c} {");
    CHECK(filled("", {}) == "");
}

TEST_CASE("a catalogue translates, tells contexts apart, and leaves what it does not have") {
    const auto made = Language::opened("uk", testing::mo_of({{"hello", "привіт"}, {std::string{"outcome\4open"}, "відкрито"}}));
    REQUIRE(made);
    CHECK_FALSE(made->is_english());
    CHECK(made->text("hello") == "привіт");
    CHECK(made->text("outcome", "open") == "відкрито");
    CHECK(made->text("open") == "open");
    CHECK(made->text("") == "");  // not the header of the catalogue
}

TEST_CASE("plurals follow the rule of the catalogue") {
    // Source: Unicode CLDR 42, supplemental/plurals.xml, cardinal rules of uk: one, few, many.
    const std::string forms = std::string{"перевірка"} + '\0' + "перевірки" + '\0' + "перевірок";
    const auto made = Language::opened("uk", testing::mo_of({{std::string{"check"} + '\0' + "checks", forms}}));
    REQUIRE(made);
    struct Row {
        long n;
        const char* form;
    };
    for (const Row row : {Row{0, "перевірок"}, Row{1, "перевірка"}, Row{2, "перевірки"}, Row{4, "перевірки"}, Row{5, "перевірок"},
                          Row{11, "перевірок"}, Row{12, "перевірок"}, Row{14, "перевірок"}, Row{21, "перевірка"}, Row{22, "перевірки"},
                          Row{25, "перевірок"}, Row{111, "перевірок"}, Row{112, "перевірок"}, Row{121, "перевірка"}}) {
        CAPTURE(row.n);
        CHECK(made->counted("check", "checks", row.n) == row.form);
    }
}

TEST_CASE("dates and numbers take the marks of the catalogue") {
    const auto made = Language::opened("uk", testing::mo_of({{std::string{"date\4{year}-{month}-{day}"}, "{d} {name} {year} р."},
                                                             {std::string{"month, short\4Mar"}, "бер."},
                                                             {std::string{"number\0041234.5 12345.6"}, "1.234,5 12.345,6"},
                                                             {std::string{"unit\4kWh"}, "кВт⋅год"}}));
    REQUIRE(made);
    CHECK(made->date("2027-03-04") == "4 бер. 2027 р.");
    CHECK(made->date("2027-03-14") == "14 бер. 2027 р.");
    for (const char* no_day : {"", "soon", "2027-13-04", "2027-00-04", "2027-3-4", "2027-03-04 09:10"}) CHECK(made->date(no_day) == no_day);
    CHECK(made->amount("1234.5 kWh") == "1.234,5 кВт⋅год");
    CHECK(made->amount("-0.25 K") == "-0,25 K");
    CHECK(made->amount("999 °") == "999 °");
    CHECK(made->amount("1234567 kWh") == "1.234.567 кВт⋅год");
    CHECK(made->amount("soft 12 kWh") == "soft 12 kWh");
    CHECK(made->number("12.") == "12.");
}

TEST_CASE("four digits stand together where the sample of the catalogue writes them so") {
    const auto made = Language::opened("es", testing::mo_of({{std::string{"number\0041234.5 12345.6"}, "1234,5 12.345,6"}}));
    REQUIRE(made);
    CHECK(made->number("1234.5") == "1234,5");
    CHECK(made->number("12345.6") == "12.345,6");
}

TEST_CASE("whatever is no catalogue is refused, and never read") {
    const std::string whole = testing::mo_of({{"hello", "привіт"}, {"day", "день"}});
    REQUIRE(Language::opened("uk", whole));
    for (std::size_t length = 0; length < whole.size(); ++length) {
        CAPTURE(length);
        const auto made = Language::opened("uk", whole.substr(0, length));
        // What is cut off behind the last text is not missed; nothing may be read past the end.
        if (made) CHECK(made->text("hello") == (made->text("hello") == "hello" ? "hello" : "привіт"));
        else CHECK(made.error().where == "language uk");
    }
    const auto none = Language::opened("uk", "no catalogue at all, but long enough for a head");
    REQUIRE_FALSE(none);
    CHECK(none.error().what.rfind("The catalogue of this language cannot be read (", 0) == 0);
    CHECK(none.error().what_to_do == "Install the program again.");
}
