#include "checklist/facts_document.hpp"

#include <doctest/doctest.h>

#include <string>

namespace wm::checklist {

TEST_CASE("a facts file gives facts, instruments and questions") {
    const auto file = load_facts(R"([site]
latitude = 29.4
t_min_c = -13

[water]
static_kpa = "3.1 bar"
flow_lmin = 90

[customer]
vulnerable = true

[crew]
members = ["A. Idris", "B. Okoye"]
plumb_lic = ["PL-7", 2028-05-01]

[[inst]]
id = "TW-3"
type = "torque wrench"
res = "0.5 N·m"
u = "4 %"
cal_due = 2027-08-01
preuse = "passed"
)",
                                 "house.toml");
    REQUIRE(file);
    CHECK(file->facts.number("site.t_min_c")->si == doctest::Approx(260.15));
    CHECK(file->facts.number("water.static_kpa")->si == doctest::Approx(310000));
    CHECK(file->facts.yes("customer.vulnerable") == true);
    CHECK(file->facts.word("crew.members") == "A. Idris, B. Okoye");
    CHECK(file->facts.date("crew.plumb_lic") == "2028-05-01");
    REQUIRE(file->instruments.size() == 1);
    CHECK(file->instruments[0].card.type == "torque wrench");
    CHECK(file->instruments[0].card.calibration_due == "2027-08-01");
    CHECK(file->instruments[0].preuse == PreUse::Passed);
    REQUIRE(file->questions.size() == 1);
    CHECK(file->questions[0].key == "water.flow_lmin");
}

TEST_CASE("what does not belong in a facts file is refused with line, column and remedy") {
    struct Row {
        std::string text, where, what, what_to_do;
    };
    for (const Row& row : {
             Row{"[site]\nlatitud = 29.4\n", "f.toml:2:11", "There is no fact \"site.latitud\".",
                 "Did you mean site.latitude?"},
             Row{"[site]\nlatitude = true\n", "f.toml:2:12",
                 "site.latitude is true or false, but latitude, north positive is a number.",
                 "Give a number in °, or a text with a unit."},
             Row{"[sys]\nkind = 3\n", "f.toml:2:8",
                 "sys.kind is a whole number, but kind of the set is one of a list of words.",
                 "Give one of \"direct\" or \"indirect\"."},
             Row{"[water]\nstatic_kpa = \"3 m\"\n", "f.toml:2:14",
                 "\"3 m\" is a length, but a pressure is wanted here.",
                 "Use Pa, kPa, MPa, GPa, bar, mbar, hPa, psi."},
             Row{"[serial]\ntank = 12\n", "f.toml:2:8",
                 "serial.tank is a whole number, but serial number of the store is a text.",
                 "Put the text in quotes."},
             Row{"[[inst]]\nid = \"a\"\n", "f.toml:1:1", "An instrument has no id or no type.",
                 "Give each [[inst]] an id and a type, for example type = \"torque wrench\"."},
             Row{"[[inst]]\nid = \"a\"\ntyp = \"b\"\n", "f.toml:3:7",
                 "An instrument has no \"typ\".", "Did you mean type?"},
             Row{"[[inst]]\nid = \"a\"\ntype = \"b\"\ncal_due = \"soon\"\n", "f.toml:4:11",
                 "inst.cal_due is no day of the calendar.",
                 "Write year, month and day, for example 2027-03-04."},
         }) {
        CAPTURE(row.text);
        const auto file = load_facts(row.text, "f.toml");
        REQUIRE(!file);
        CHECK(file.error().where == row.where);
        CHECK(file.error().what == row.what);
        CHECK(file.error().what_to_do == row.what_to_do);
    }
}

TEST_CASE("a text that is no TOML is refused with its place") {
    const auto file = load_facts("[site\nlatitude = 3\n", "f.toml");
    REQUIRE(!file);
    CHECK(file.error().where.starts_with("f.toml:1:"));
    CHECK(file.error().kind == ProblemKind::Unreadable);
}

TEST_CASE("an instrument is described by its uncertainty or by its permissible error, not by both") {
    const std::string inst = "[[inst]]\nid = \"PG-1\"\ntype = \"pressure gauge\"\n";
    const auto by_error = load_facts(inst + "mpe = \"10 kPa\"\n", "f.toml");
    REQUIRE(by_error);
    CHECK(by_error->instruments.front().card.expanded_uncertainty == "permissible error 10 kPa");
    const auto both = load_facts(inst + "mpe = \"10 kPa\"\nu = \"8 kPa\"\n", "f.toml");
    REQUIRE(!both);
    CHECK(both.error().what == "An instrument has both a permissible error and an uncertainty.");
}

}  // namespace wm::checklist
