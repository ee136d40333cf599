#include <doctest/doctest.h>

#include "checklist/lint_rules.hpp"
#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE(
    "every expression of the published checklists passes the dimension check and can be reached") {
    const auto library =
        testing::library_with({"survey.toml", "kit.toml", "commissioning.toml", "service.toml"});
    for (const auto& list : library.checklists) {
        CAPTURE(list.name);
        Findings findings{list.text};
        const Linted linted{list, library, findings};
        lint_expressions(linted);
        lint_reach(linted);
        CHECK(findings.count() == 0);
    }
}

TEST_CASE("each place of an expression is looked at: parts, conditions, bands") {
    auto library = testing::library_with({"commissioning.toml"});
    auto& list = library.checklists.front();
    auto& check = list.checks.front();
    const auto wrong = Expression::parse("1 m at least 1 s");
    REQUIRE(wrong);
    const auto complaints = [&] {
        Findings findings{list.text};
        lint_expressions({list, library, findings});
        return findings.count();
    };
    REQUIRE(complaints() == 0);
    const auto before = check;
    check.applies = *wrong;
    CHECK(complaints() == 1);
    check = before;
    check.concession_when = *wrong;
    CHECK(complaints() == 1);
    check = before;
    check.valid_when.push_back({*wrong, "x"});
    CHECK(complaints() == 1);
    check = before;
    check.accept_when.emplace("x", *wrong);
    CHECK(complaints() == 1);
}

TEST_CASE("a condition no house meets is noticed behind fifty times the conditions of a published file") {
    auto library = testing::library_with({"commissioning.toml"});
    auto list = library.checklists.front();
    for (auto& check : list.checks) check.examples.clear();
    const auto once = list.checks;
    for (int n = 1; n < 50; ++n) list.checks.insert(list.checks.end(), once.begin(), once.end());
    const auto impossible = Expression::parse("sys.kind is 'direct' and sys.kind is 'indirect'");
    REQUIRE(impossible);
    auto last = once.front();
    last.applies = *impossible;
    list.checks.push_back(last);
    Findings findings{list.text};
    lint_reach({list, library, findings});
    CHECK(findings.count() == 1);
}

}  // namespace wm::checklist
