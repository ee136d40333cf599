#include "checklist/lint.hpp"

#include <doctest/doctest.h>

#include <cstdint>
#include <string>
#include <vector>

#include "checklist/testing.hpp"

namespace wm::checklist {
namespace {

// A whole, sound checklist: one check of each kind that the faults below are planted in.
const std::string sound = R"([checklist]
name = "small"
title = "A small checklist"
version = 1
date = 2026-11-25
reason = "For the tests."

[example_facts]
sys.kind = "indirect"
sys.anchor_nm = 20
sys.relief_kpa = 600

[[stage]]
id = "A"
title = "First"

[[stage]]
id = "B"
title = "Second"

[[check]]
id = "power-off"
stage = "A"
kind = "confirm"
hold = true
severity = "H"
title = "Power is off"
question = "Is the power off?"
why = "It kills."
on_fail = "Stop."
caution = ["C-ELECTRIC"]
source = ["CP"]

[[check]]
id = "bolt"
stage = "B"
kind = "quantity"
hold = true
severity = "D"
title = "Bolt is tight"
question = "What does the wrench show?"
why = "Loose bolts let go."
on_fail = "Tighten."
source = ["S17"]
instrument = "torque wrench"
after = ["power-off"]
applies = "sys.kind is 'indirect'"
unit = "N·m"
plausible = [0, 120]
tolerance = "reading within 10 % of sys.anchor_nm"

[[check.example]]
reading = "20 N·m"
outcome = "conforms"

[[check.example]]
reading = "25 N·m"
outcome = "does not conform"

[[check.example]]
reading = "21.9 N·m"
outcome = "inconclusive"
)";

std::string replaced(const std::string& from, const std::string& to) {
    std::string text = sound;
    const auto at = text.find(from);
    REQUIRE_MESSAGE(at != std::string::npos, from);
    text.replace(at, from.size(), to);
    return text;
}

std::string all_told(const LintReport& report) {
    std::string text;
    for (const auto& finding : report.findings)
        text += (text.empty() ? "" : "\n--\n") + told(finding, "small.toml");
    return text;
}

std::string told_of(const std::string& text) {
    static const Library library = testing::library_with();
    return all_told(lint(text, "small.toml", library));
}

}  // namespace

TEST_CASE("a sound checklist gives no finding") {
    CHECK(told_of(sound).empty());
    CHECK(told_of(replaced("[[check.example]]", "# a comment\n[[check.example]]")).empty());
}

TEST_CASE("a tolerance that compares unlike things is shown with a caret and a remedy") {
    CHECK(told_of(replaced("within 10 % of sys.anchor_nm", "at most sys.relief_kpa")) ==
          "small.toml:50: the tolerance of \"bolt\" compares a torque or energy with a pressure\n"
          "    tolerance = \"reading at most sys.relief_kpa\"\n"
          "                                 ^^^^^^^^^^^^^^\n"
          "Give it in a unit of torque or energy, for example 20 N·m.");
}

TEST_CASE("a tolerance cannot hang on a part of its own check, which may be read after it") {
    const std::string part = "\n[[check.part]]\nname = \"shown twice\"\nkind = \"quantity\"\nunit = \"N·m\"\nquestion = \"And again?\"\n";
    const auto with = [&](const std::string& tolerance) {
        auto text = replaced("within 10 % of sys.anchor_nm\"", tolerance + "\"");
        text.insert(text.find("\n[[check.example]]"), part);
        return told_of(text);
    };
    CHECK(with("within 10 % of sys.anchor_nm").empty());
    CHECK(with("at most shown_twice") ==
          "small.toml:50: the tolerance of \"bolt\" names \"shown twice\", a part of the same check, which may be read after it\n"
          "    tolerance = \"reading at most shown_twice\"\n"
          "                                 ^^^^^^^^^^^\n"
          "Make it a check of its own that comes before, and name that one.");
}

TEST_CASE("a fact that nobody asks for is named with the nearest one") {
    CHECK(told_of(replaced("of sys.anchor_nm", "of sys.ancor_nm")) ==
          "small.toml:50: the tolerance of \"bolt\" names \"sys.ancor_nm\", which nobody asks for\n"
          "    tolerance = \"reading within 10 % of sys.ancor_nm\"\n"
          "                                        ^^^^^^^^^^^^\n"
          "Did you mean sys.anchor_nm?");
}

TEST_CASE(
    "a check that no house can need is found, whether its condition is constant or contradicts "
    "itself") {
    CHECK(told_of(replaced("sys.kind is 'indirect'\"",
                           "sys.kind is 'indirect' and sys.kind is 'direct'\"")) ==
          "small.toml:47: the check \"bolt\" can never be asked: its condition is false for every "
          "house\n"
          "    applies = \"sys.kind is 'indirect' and sys.kind is 'direct'\"\n"
          "               ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^\n"
          "Loosen applies, or take the check out.\n"
          "--\n"
          "small.toml:54: an example of \"bolt\" expects \"conforms\", but comes out as \"not "
          "applicable\"\n"
          "    outcome = \"conforms\"\n"
          "              ^^^^^^^^^^\n"
          "It applies only if kind of the set is indirect and kind of the set is direct (kind of "
          "the set: indirect). "
          "Put right the example or the tolerance.\n"
          "--\n"
          "small.toml:58: an example of \"bolt\" expects \"does not conform\", but comes out as "
          "\"not applicable\"\n"
          "    outcome = \"does not conform\"\n"
          "              ^^^^^^^^^^^^^^^^^^\n"
          "It applies only if kind of the set is indirect and kind of the set is direct (kind of "
          "the set: indirect). "
          "Put right the example or the tolerance.\n"
          "--\n"
          "small.toml:62: an example of \"bolt\" expects \"inconclusive\", but comes out as \"not "
          "applicable\"\n"
          "    outcome = \"inconclusive\"\n"
          "              ^^^^^^^^^^^^^^\n"
          "It applies only if kind of the set is indirect and kind of the set is direct (kind of "
          "the set: indirect). "
          "Put right the example or the tolerance.");
    for (const std::string never :
         {"no", "site.wind_ms more than 50 m/s and site.wind_ms less than 40 m/s",
          "customer.vulnerable and not customer.vulnerable"}) {
        CAPTURE(never);
        CHECK(told_of(replaced("sys.kind is 'indirect'\"", never + "\""))
                  .find("can never be asked") != std::string::npos);
    }
    for (const std::string sometimes :
         {"site.wind_ms more than 40 m/s",
          "sys.ua_wk more than 1 W/K or outcome('power-off') is 'conforms'",
          "not known(sys.ua_wk)"}) {
        CAPTURE(sometimes);
        CHECK(told_of(replaced("sys.kind is 'indirect'\"", sometimes + "\""))
                  .find("can never be asked") == std::string::npos);
    }
}

TEST_CASE("a check may only wait for hold points that come before it") {
    CHECK(told_of(replaced("stage = \"A\"", "stage = \"B\"")).find("advice") == std::string::npos);
    CHECK(told_of(replaced("stage = \"B\"\nkind = \"quantity\"",
                           "stage = \"A\"\nkind = \"quantity\"")) ==
          "small.toml:17: the stage \"B\" has no check\n"
          "    [[stage]]\n"
          "    ^^^^^^^^^\n"
          "Take it out, or give it a check.");
    auto text = replaced("stage = \"A\"", "stage = \"B\"");
    const auto bolt = text.find("stage = \"B\"\nkind = \"quantity\"");
    text.replace(bolt, 11, "stage = \"A\"");
    CHECK(told_of(text) ==
          "small.toml:46: \"bolt\" waits for \"power-off\", which comes later\n"
          "    after = [\"power-off\"]\n"
          "            ^^^^^^^^^^^^^\n"
          "Move the hold point before what depends on it, or take it out of after.");
    CHECK(told_of(replaced("after = [\"power-off\"]", "after = [\"power-of\"]")) ==
          "small.toml:46: \"bolt\" waits for \"power-of\", which does not exist\n"
          "    after = [\"power-of\"]\n"
          "            ^^^^^^^^^^^^\n"
          "Did you mean power-off?");
    CHECK(told_of(replaced("hold = true\nseverity = \"H\"", "severity = \"H\"")) ==
          "small.toml:45: \"bolt\" waits for \"power-off\", which is no hold point\n"
          "    after = [\"power-off\"]\n"
          "            ^^^^^^^^^^^^^\n"
          "Give that check hold = true, or take it out of after.");
}

TEST_CASE("an id used twice is found, in the file and over all checklists") {
    CHECK(told_of(replaced("id = \"bolt\"", "id = \"power-off\""))
              .find("the id \"power-off\" is used twice\n    id = \"power-off\"\n         "
                    "^^^^^^^^^^^\nGive each check an id of its own.") != std::string::npos);
    const auto library = testing::library_with({"survey.toml"});
    const auto report =
        lint(replaced("id = \"power-off\"", "id = \"roof-load\""), "small.toml", library);
    CHECK(all_told(report).find("the id \"roof-load\" is also used in survey") !=
          std::string::npos);
}

TEST_CASE("guard strips that leave nothing between them are found for the weakest instrument") {
    CHECK(told_of(replaced("within 10 % of", "within 3 % of")) ==
          "small.toml:50: the tolerance of \"bolt\" leaves nothing between the guard strips of the "
          "weakest permitted torque wrench\n"
          "    tolerance = \"reading within 3 % of sys.anchor_nm\"\n"
          "                ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^\n"
          "Name a better instrument, or widen the tolerance.\n"
          "--\n"
          "small.toml:54: an example of \"bolt\" expects \"conforms\", but comes out as "
          "\"inconclusive\"\n"
          "    outcome = \"conforms\"\n"
          "              ^^^^^^^^^^\n"
          "20 N·m reads as allowed, 19.4 to 20.6 N·m (20 N·m ± 3 %), but this instrument is too coarse to "
          "tell: the reading may be off by its uncertainty of 0.8 N·m, and no reading at all could "
          "pass. Measure with a finer one. No instrument was named, so the weakest "
          "permitted torque wrench is assumed. "
          "Put right the example or the tolerance.\n"
          "--\n"
          "small.toml:62: an example of \"bolt\" expects \"inconclusive\", but comes out as \"does "
          "not conform\"\n"
          "    outcome = \"inconclusive\"\n"
          "              ^^^^^^^^^^^^^^\n"
          "21.9 N·m is above the highest allowed, 20.6 N·m. No instrument was named, so the "
          "weakest permitted torque wrench is assumed. "
          "Put right the example or the tolerance.");
}

TEST_CASE("a tolerance outside what is plausible is found") {
    CHECK(told_of(replaced("plausible = [0, 120]", "plausible = [0, 10]")) ==
          "small.toml:50: the tolerance of \"bolt\" allows 18 to 22 N·m (20 N·m ± 10 %), which "
          "lies outside the plausible range\n"
          "    tolerance = \"reading within 10 % of sys.anchor_nm\"\n"
          "                ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^\n"
          "Put right the tolerance, or plausible = [0, 10].");
}

TEST_CASE("what can hurt someone needs a caution and never a concession") {
    CHECK(told_of(replaced("caution = [\"C-ELECTRIC\"]\n", "")) ==
          "small.toml:26: \"power-off\" can hurt someone and has no caution\n"
          "    severity = \"H\"\n"
          "               ^^^\n"
          "Add caution = [\"C-…\"] with the id of a caution.");
    CHECK(told_of(replaced("caution = [\"C-ELECTRIC\"]",
                           "caution = [\"C-ELECTRIC\"]\nconcession_when = \"yes\"")) ==
          "small.toml:32: \"power-off\" can hurt someone and allows a concession\n"
          "    concession_when = \"yes\"\n"
          "                      ^^^^^\n"
          "No concession is ever given where someone can be hurt; take it out.");
}

TEST_CASE("cautions, sources and instruments that do not exist are named") {
    CHECK(told_of(replaced("C-ELECTRIC", "C-ELECTRC")) ==
          "small.toml:31: \"power-off\" names the caution \"C-ELECTRC\", which does not exist\n"
          "    caution = [\"C-ELECTRC\"]\n"
          "              ^^^^^^^^^^^^^\n"
          "Did you mean C-ELECTRIC?");
    CHECK(told_of(replaced("source = [\"S17\"]", "source = [\"S99\"]")) ==
          "small.toml:44: \"bolt\" names the source \"S99\", which does not exist\n"
          "    source = [\"S99\"]\n"
          "             ^^^^^^^\n"
          "Use the mark of a [[source]] of instruments.toml, CP or PH.");
    CHECK(told_of(replaced("source = [\"S17\"]\n", "")).find("\"bolt\" names no source") !=
          std::string::npos);
    CHECK(told_of(replaced("\"torque wrench\"", "\"torque wrnch\""))
              .find("small.toml:45: \"bolt\" names the instrument \"torque wrnch\", which does not "
                    "exist\n"
                    "    instrument = \"torque wrnch\"\n"
                    "                 ^^^^^^^^^^^^^^\n"
                    "Did you mean \"torque wrench\"?") != std::string::npos);
    CHECK(told_of(replaced("\"torque wrench\"", "\"inclinometer\""))
              .find("\"bolt\" is a torque or energy, but a inclinometer measures an angle") !=
          std::string::npos);
}

TEST_CASE("an unknown unit and an unknown key are found where they stand") {
    CHECK(told_of(replaced("unit = \"N·m\"", "unit = \"Nmm\"")) ==
          "small.toml:48: unit of \"bolt\" is \"Nmm\", which is not a unit this tool knows\n"
          "    unit = \"Nmm\"\n"
          "           ^^^^^\n"
          "Use a unit of the list in the guide, for example kPa, °C, mm or N·m.");
    CHECK(told_of(replaced("plausible =", "plausibel =")) ==
          "small.toml:49: \"bolt\" has a key \"plausibel\" that means nothing here\n"
          "    plausibel = [0, 120]\n"
          "                ^^^^^^^^\n"
          "Did you mean plausible?");
}

TEST_CASE("an example that comes out otherwise is shown with the reason") {
    CHECK(told_of(replaced("reading = \"25 N·m\"", "reading = \"19 N·m\"")) ==
          "small.toml:58: an example of \"bolt\" expects \"does not conform\", but comes out as "
          "\"conforms\"\n"
          "    outcome = \"does not conform\"\n"
          "              ^^^^^^^^^^^^^^^^^^\n"
          "19 N·m keeps to what is allowed, 18 to 22 N·m (20 N·m ± 10 %), even if the "
          "reading is off by its uncertainty of 0.76 N·m. No instrument was named, so the weakest permitted "
          "torque wrench is assumed. "
          "Put right the example or the tolerance.");
    CHECK(told_of(replaced("reading = \"25 N·m\"", "reading = \"25 K\"")) ==
          "small.toml:56: an example of \"bolt\" cannot be read: \"25 K\" is a temperature "
          "difference, but a torque or energy is wanted here.\n"
          "    [[check.example]]\n"
          "    ^^^^^^^^^^^^^^^^^\n"
          "Use N·m, kN·m.");
}

TEST_CASE("a check of numbers needs three examples") {
    const auto text = sound.substr(0, sound.rfind("[[check.example]]"));
    CHECK(told_of(text) ==
          "small.toml:34: \"bolt\" reads numbers and has 2 of 3 examples\n"
          "    [[check]]\n"
          "    ^^^^^^^^^\n"
          "Add examples that conform, that do not, and one at the edge.");
}

TEST_CASE("a tolerance whose limits cannot be drawn is refused") {
    CHECK(told_of(replaced("reading within 10 % of sys.anchor_nm",
                           "reading at least 18 N·m or reading at most 5 N·m"))
              .find("the tolerance of \"bolt\" holds the reading against something no limit can be "
                    "drawn for\n"
                    "    tolerance = \"reading at least 18 N·m or reading at most 5 N·m\"\n"
                    "                 ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^") !=
          std::string::npos);
}

TEST_CASE("a text that is no TOML and a file that is no content are said to be so") {
    CHECK(told_of("[checklist\n").starts_with("small.toml:1: The text cannot be read as TOML: "));
    CHECK(told_of("[colours]\nred = 1\n") ==
          "small.toml:1: the file holds no checklist, caution, instrument type, source or setting\n"
          "    [colours]\n"
          "    ^^^^^^^^^\n"
          "Begin a checklist with [checklist].");
}

TEST_CASE("hostile texts of a megabyte are answered, with at most 200 findings") {
    const auto repeated = [](std::string_view piece, std::size_t bytes) {
        std::string text;
        while (text.size() < bytes) text += piece;
        return text;
    };
    const auto many_keys = [](std::size_t bytes) {
        std::string text;
        for (int i = 0; text.size() < bytes; ++i)
            text += "sys.tank_" + std::to_string(i) + " = 3\n";
        return text;
    };
    constexpr std::size_t megabyte = 1'000'000;
    const Library library;
    for (const auto& text :
         {repeated("[", megabyte), repeated("a.", megabyte), repeated("[[check]]\n", megabyte),
          repeated("x = {", megabyte), "[checklist]\nname = \"" + repeated("\"", megabyte),
          "[[check]]\ntolerance = \"" + repeated("(", megabyte) + "\"",
          "[example_facts]\n" + repeated("site.latitud = 3\n", megabyte),
          repeated("\xFF\xFE", megabyte), std::string(megabyte, '\0'), repeated("[=]\n", megabyte),
          "[example_facts]\n" + many_keys(megabyte),
          "[[check]]\nid = \"a\"\n" +
              repeated("[[check.example]]\nreading = \"1\"\noutcome = \"open\"\n", megabyte)}) {
        const auto report = lint(text, "hostile.toml", library);
        CHECK(report.has_errors());
        CHECK(report.findings.size() <= 400);
    }
}

TEST_CASE("a published file with bytes changed anywhere is linted to an end") {
    const auto library = testing::library_with();
    const auto text = testing::published("kit.toml");
    std::uint32_t state = 20261125;
    const auto next = [&] { return state = state * 1664525U + 1013904223U; };
    for (int round = 0; round < 60; ++round) {
        auto changed = text;
        for (int n = 0; n < 4; ++n) {
            const auto at = next() % changed.size();
            switch (next() % 3) {
                case 0:
                    changed[at] = static_cast<char>(next() >> 24U);
                    break;
                case 1:
                    changed.erase(at, next() % 40);
                    break;
                default:
                    changed.insert(at, changed.substr(next() % changed.size(), next() % 40));
                    break;
            }
        }
        const auto report = lint(changed, "kit.toml", library);
        for (const auto& finding : report.findings) {
            CHECK_FALSE(finding.what.empty());
            CHECK_FALSE(finding.what_to_do.empty());
        }
    }
}

}  // namespace wm::checklist
