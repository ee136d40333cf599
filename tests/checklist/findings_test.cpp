#include "checklist/findings.hpp"

#include <doctest/doctest.h>

namespace wm::checklist {

TEST_CASE("a finding quotes its line with carets under the whole value") {
    const std::string text = "[x]\n  name = \"a, b\" # why\nlist = [1, 2]\n";
    Findings findings{text};
    findings.error({2, 10}, "the name is wrong", "Change it.");
    findings.advise({3, 8}, "the list is long", "Shorten it.");
    const auto found = findings.taken();
    REQUIRE(found.size() == 2);
    CHECK(told(found[0], "f.toml") ==
          "f.toml:2: the name is wrong\n    name = \"a, b\" # why\n           ^^^^^^\nChange it.");
    CHECK(found[1].grade == Grade::Advice);
    CHECK(found[1].excerpt == "    list = [1, 2]\n           ^^^^^^");
}

TEST_CASE("a fault inside an expression has its column counted in characters") {
    const std::string text = "tolerance = \"reading within 3° of 'ä' ö\"\n";
    Findings findings{text};
    findings.error_in({1, 13}, "reading within 3° of 'ä' ö", "the tolerance",
                      {"is odd", "Mend it.", 28, 30});
    const auto found = findings.taken();
    REQUIRE(found.size() == 1);
    CHECK(found[0].what == "the tolerance is odd");
    CHECK(found[0].at == Position{1, 40});
    CHECK(found[0].excerpt ==
          "    tolerance = \"reading within 3° of 'ä' ö\"\n                                        "
          "   ^");
}

TEST_CASE("findings come in the order of the file, and no more than 200 are kept") {
    const std::string text(1000, '\n');
    Findings findings{text};
    for (std::uint32_t i = 0; i < 500; ++i) findings.error({500 - i, 1}, "x", "y");
    CHECK(findings.count() == 500);
    CHECK(findings.is_full());
    const auto found = findings.taken();
    CHECK(found.size() == 200);
    CHECK(found.front().at.line < found.back().at.line);
}

TEST_CASE("a sentence as long as a file is cut between two letters") {
    const std::string text = "[x]\n";
    Findings findings{text};
    std::string letters;
    while (letters.size() < 100'000) letters += "ä";
    findings.error({1, 1}, "x" + letters, letters);
    findings.error({1, 1}, "short", std::string(4000, 'y'));
    const auto found = findings.taken();
    REQUIRE(found.size() == 2);
    // The cut would fall into the two bytes of a letter.
    CHECK(found[0].what == "x" + letters.substr(0, 3998) + " …");
    CHECK(found[0].what_to_do == letters.substr(0, 4000) + " …");
    CHECK(found[1].what_to_do == std::string(4000, 'y'));
}

}  // namespace wm::checklist
