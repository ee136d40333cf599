#include "checklist/lint_rules.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "checklist/testing.hpp"

namespace wm::checklist {
namespace {

// What the rules on names say of a published check changed by hand.
std::string names_of(void (*change)(Check&)) {
    auto library = testing::library_with({"commissioning.toml"});
    auto& list = library.checklists.front();
    const auto found = std::find_if(list.checks.begin(), list.checks.end(),
                                    [](const Check& c) { return c.id.text == "anchor-torque"; });
    change(*found);
    Findings findings{list.text};
    lint_names({list, library, findings});
    const auto all = findings.taken();
    return all.empty() ? "" : all.front().what;
}

}  // namespace

TEST_CASE("the published commissioning list passes every rule on names") {
    CHECK(names_of([](Check&) {}).empty());
}

TEST_CASE("duties that contradict each other are found") {
    CHECK(names_of([](Check& c) { c.title = std::string(41, 'x'); }) ==
          "the title of \"anchor-torque\" has 41 characters");
    CHECK(names_of([](Check& c) { c.restricts = true; }) ==
          "\"anchor-torque\" restricts the handover when deferred, but may not be deferred");
    CHECK(names_of([](Check& c) { c.defer_reasons = {"rain"}; }) ==
          "\"anchor-torque\" may be deferred without end");
    CHECK(names_of([](Check& c) { c.plausible.reset(); }) ==
          "\"anchor-torque\" reads numbers and does not say what is plausible");
    CHECK(names_of([](Check& c) { c.licence = "baker"; }) ==
          "\"anchor-torque\" asks for the licence \"baker\"");
    CHECK(names_of([](Check& c) {
              c.accept = {"a"};
              c.refuse = {"a"};
          }) == "\"anchor-torque\" both accepts and refuses \"a\"");
}

TEST_CASE("the place of a key is that of its value, or of the check") {
    Check check;
    check.at = {7, 1};
    check.key_at["unit"] = {9, 8};
    CHECK(place_in(check, "unit") == Position{9, 8});
    CHECK(place_in(check, "title") == Position{7, 1});
}

}  // namespace wm::checklist
