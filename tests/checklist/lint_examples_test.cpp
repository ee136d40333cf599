#include <doctest/doctest.h>

#include <algorithm>
#include <cstdint>
#include <string>

#include "checklist/example_steps.hpp"
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

TEST_CASE("examples beyond what one file may take are not judged, and one finding says from where") {
    const auto library = testing::library_with({"commissioning.toml"});
    const auto& published = library.checklists.front();
    const auto* check = published.find(CheckId{"anchor-torque"});
    REQUIRE(check);
    // Of no use as a reading, so each that is looked at is told; long, so that few may be.
    Example example;
    example.reading = std::string(2'000, ';');
    const auto steps = ExampleSteps{*check, library}.of(example, published.example_facts.size());
    const auto judged = most_example_steps / steps;
    REQUIRE(judged >= 2);
    REQUIRE(judged < 100);

    auto list = published;
    list.checks = {*check, *check};
    list.checks[0].examples.assign(judged, example);
    list.checks[1].examples.assign(3, example);
    for (std::uint32_t n = 0; n < 3; ++n) list.checks[1].examples[n].at = {n + 2, 1};
    const std::string text(10, '\n');
    const auto errors_of = [&](const Checklist& linted) {
        Findings findings{text};
        lint_examples({linted, library, findings});
        auto found = findings.taken();
        std::erase_if(found, [](const Finding& finding) { return finding.grade != Grade::Error; });
        return found;
    };

    const auto found = errors_of(list);
    REQUIRE(found.size() == judged + 1);
    for (std::size_t n = 0; n < judged; ++n)
        CHECK(found[n].what.starts_with("an example of \"anchor-torque\" cannot be read: "));
    CHECK(found.back().at == Position{2, 1});
    CHECK(found.back().what ==
          "from this example on none is judged: the examples of the file are too much work together");
    CHECK(found.back().what_to_do ==
          "Give fewer examples or shorter tolerances, or make two checklists of this one.");

    list.checks.pop_back();
    CHECK(errors_of(list).size() == judged);
}

TEST_CASE("an example's own facts reach the derived values, and leave those of the file alone") {
    // The published house needs a vessel of 31 L; twice the store wants a larger one than 35 L.
    const auto library = testing::library_with({"commissioning.toml"});
    auto list = library.checklists.front();
    const auto* check = list.find(CheckId{"expansion-room"});
    REQUIRE(check);
    Example fits;
    fits.reading = "vessel";
    fits.parts = {{"vessel size", "35 L"}, {"precharge", "330 kPa"}};
    fits.expected = Outcome::Conforms;
    Example too_small = fits;
    too_small.facts = {*read_fact("sys.tank_l", "300")};
    too_small.expected = Outcome::DoesNotConform;
    Check only = *check;
    only.examples = {fits, too_small, fits, too_small};
    list.checks = {only};
    Findings findings{list.text};
    lint_examples({list, library, findings});
    for (const auto& finding : findings.taken())
        CHECK_MESSAGE(finding.grade != Grade::Error, finding.what_to_do);
}

}  // namespace wm::checklist
