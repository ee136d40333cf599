#include "checklist/facts.hpp"

#include <doctest/doctest.h>

namespace wm::checklist {

TEST_CASE("a fact is read in the unit of its key or in one of the same kind") {
    struct Row {
        std::string_view key, text;
        double si;
    };
    for (const Row row :
         {Row{"site.t_min_c", "-13", 260.15}, Row{"site.t_min_c", "-13 °C", 260.15},
          Row{"water.static_kpa", "3.1 bar", 310000}, Row{"water.static_kpa", "310", 310000},
          Row{"sys.tank_l", "0,15 m³", 0.15}, Row{"heater.max_inlet_c", "unknown", 333.15},
          Row{"sys.anchor_n", "4", 4}}) {
        CAPTURE(row.key);
        const auto value = read_fact(row.key, row.text);
        REQUIRE(value);
        CHECK(value->number->si == doctest::Approx(row.si));
        CHECK(value->text == row.text);
    }
}

TEST_CASE("words, yes and no, days and licences are read in their own way") {
    CHECK(read_fact("sys.kind", "Indirect")->word == "indirect");
    CHECK(read_fact("customer.vulnerable", "yes")->yes == true);
    CHECK(read_fact("customer.vulnerable", "false")->yes == false);
    CHECK(read_fact("elec.earth", "true")->word == "yes");
    CHECK(read_fact("sys.fluid_expiry", "2027-03-04")->date == "2027-03-04");
    CHECK(read_fact("crew.plumb_lic", "PL-7 until 2028-05-01")->date == "2028-05-01");
    CHECK(read_fact("crew.plumb_lic", "PL-7")->outside_plausible);
}

TEST_CASE("a fact that cannot be read is refused in words") {
    struct Row {
        std::string_view key, text, what, what_to_do;
    };
    for (const Row row : {
             Row{"site.latitud", "29", "\"site.latitud\" is not a fact this tool knows.",
                 "Did you mean site.latitude?"},
             Row{"sys.kind", "dirct", "\"dirct\" is no kind of the set this tool knows.",
                 "Did you mean \"direct\"? The words are \"direct\" or \"indirect\"."},
             Row{"sys.anchor_n", "4.5", "The number of store anchors is a whole number, not 4.5.",
                 "Give a whole number."},
             Row{"customer.vulnerable", "perhaps",
                 "\"perhaps\" is neither yes nor no (small children, old or disabled people in the "
                 "house).",
                 "Give yes or no."},
             Row{"sys.fluid_expiry", "next year",
                 "\"next year\" is no day of the calendar (last day of use of the antifreeze).",
                 "Write year, month and day, for example 2027-03-04."},
             Row{"site.t_min_c", "5 K",
                 "\"5 K\" is a temperature difference, but a temperature is wanted here.",
                 "Use °C, °F."},
         }) {
        CAPTURE(row.key);
        const auto value = read_fact(row.key, row.text);
        REQUIRE(!value);
        CHECK(value.error().what == row.what);
        CHECK(value.error().what_to_do == row.what_to_do);
    }
}

TEST_CASE("a value outside its plausible range is kept and asked about") {
    const auto value = read_fact("water.static_kpa", "3100");
    REQUIRE(value);
    CHECK(value->outside_plausible);
    const auto question = question_about(*value);
    REQUIRE(question);
    CHECK(question->words ==
          "The static pressure of the supply is 3100 kPa; 20 to 1200 kPa would be usual.");
    CHECK_FALSE(question_about(*read_fact("water.static_kpa", "310")));
}

TEST_CASE("facts answer by key and only with what was given") {
    Facts facts;
    facts.set(*read_fact("sys.tank_l", "150"));
    facts.set(*read_fact("sys.kind", "direct"));
    facts.set(*read_fact("sys.tank_l", "200"));
    CHECK(facts.number("sys.tank_l")->si == doctest::Approx(0.2));
    CHECK(facts.word("sys.kind") == "direct");
    CHECK_FALSE(facts.word("sys.tank_l"));
    CHECK_FALSE(facts.number("sys.coll_l"));
    CHECK_FALSE(facts.knows("sys.coll_l"));
    CHECK(facts.all().size() == 2);
}

}  // namespace wm::checklist
