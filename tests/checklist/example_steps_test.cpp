#include "checklist/example_steps.hpp"

#include <doctest/doctest.h>

#include <string>

#include "checklist/testing.hpp"

namespace wm::checklist {
namespace {

const std::initializer_list<std::string_view> published = {
    "survey.toml", "kit.toml", "commissioning.toml", "service.toml", "tutorial.toml"};

Example read_as(std::string reading) {
    Example example;
    example.reading = std::move(reading);
    return example;
}

}  // namespace

TEST_CASE("a file may hold fifty times the examples of any published checklist") {
    const auto library = testing::library_with(published);
    REQUIRE(library.checklists.size() == published.size());
    for (const auto& list : library.checklists) {
        CAPTURE(list.name);
        std::size_t steps = 0;
        std::size_t examples = 0;
        for (const auto& check : list.checks) {
            const ExampleSteps of_check{check, library};
            for (const auto& example : check.examples) {
                steps += of_check.of(example, list.example_facts.size());
                ++examples;
            }
        }
        CAPTURE(steps);
        CHECK(examples > 0);
        CHECK(steps >= examples);
        CHECK(4 * steps <= most_example_steps);
    }
}

TEST_CASE("each place of an example takes as much again as the tolerance has nodes") {
    const auto library = testing::library_with({"commissioning.toml"});
    const auto* check = library.find(CheckId{"anchor-torque"});
    REQUIRE(check);
    const ExampleSteps steps{*check, library};
    const auto one = steps.of(read_as("1=20 N·m"), 0);
    const auto ten = steps.of(read_as("1=20; 2=20; 3=20; 4=20; 5=20; 6=20; 7=20; 8=20; 9=20; 10=20 N·m"), 0);
    CHECK(ten >= one + 9 * check->tolerance->nodes().size());
}

TEST_CASE("each point of a series is counted where the points are looked through, and nowhere else") {
    const auto library = testing::library_with({"commissioning.toml"});
    const auto* series = library.find(CheckId{"test-hold"});
    const auto* single = library.find(CheckId{"pressure-limit-set"});
    REQUIRE(series);
    REQUIRE(single);
    REQUIRE(single->kind == Kind::Quantity);
    const auto more_of = [&](const Check& check) {
        const ExampleSteps steps{check, library};
        return steps.of(read_as(std::string(1000, ';')), 0) - steps.of(read_as(""), 0);
    };
    // "first - smallest" looks through them twice.
    CHECK(more_of(*series) >= 2 * 1000);
    CHECK(more_of(*single) == 0);
}

TEST_CASE("an example with facts of its own has the derived values worked out again") {
    const auto library = testing::library_with({"commissioning.toml"});
    const auto* check = library.find(CheckId{"anchor-pull"});
    REQUIRE(check);
    const ExampleSteps steps{*check, library};
    auto example = read_as("1=0.7; 2=0.65 kN");
    const auto shared = steps.of(example, 90);
    example.facts = {*read_fact("sys.tank_l", "200")};
    const auto own = steps.of(example, 90);
    CHECK(own > shared);
    // Not for the facts alone, but for the one derived value it names.
    CHECK(steps.of(example, 0) > steps.of(read_as(example.reading), 0));
    example.facts.clear();
    example.values = {{"sun-window", "800 W/m²"}};
    CHECK(steps.of(example, 90) == own);
}

}  // namespace wm::checklist
