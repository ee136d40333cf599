#include <doctest/doctest.h>

#include "checklist/lint_rules.hpp"
#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE("an example's own facts stand on top of those of the file") {
    Checklist list;
    list.example_facts = {*read_fact("sys.tank_l", "150"), *read_fact("sys.kind", "direct")};
    Example example;
    example.facts = {*read_fact("sys.tank_l", "200")};
    CHECK(facts_for(list, nullptr).number("sys.tank_l")->si == doctest::Approx(0.15));
    CHECK(facts_for(list, &example).number("sys.tank_l")->si == doctest::Approx(0.2));
    CHECK(facts_for(list, &example).word("sys.kind") == "direct");
}

TEST_CASE("turning the outcome of any published example round is noticed") {
    auto library =
        testing::library_with({"survey.toml", "kit.toml", "commissioning.toml", "service.toml"});
    std::size_t examples = 0;
    for (auto& list : library.checklists) {
        for (auto& check : list.checks) {
            for (auto& example : check.examples) {
                example.expected = example.expected == Outcome::Conforms ? Outcome::DoesNotConform
                                                                         : Outcome::Conforms;
                ++examples;
            }
        }
    }
    std::size_t noticed = 0;
    for (const auto& list : library.checklists) {
        for (const auto& check : list.checks) {
            Checklist one = list;
            one.checks = {check};
            Findings findings{list.text};
            lint_examples({one, library, findings});
            for (const auto& finding : findings.taken())
                noticed += finding.grade == Grade::Error ? 1U : 0U;
        }
    }
    CHECK(examples > 250);
    CHECK(noticed == examples);
}

}  // namespace wm::checklist
