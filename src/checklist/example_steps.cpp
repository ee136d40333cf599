// Counting nodes, places and points.
#include "checklist/example_steps.hpp"

#include <algorithm>
#include <numeric>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "checklist/derived_names.hpp"
#include "checklist/functions.hpp"

namespace wm::checklist {
namespace {

// The weights are times measured against that of a node.
constexpr std::size_t for_an_example = 10;
constexpr std::size_t for_a_derived_value = 25;
constexpr std::size_t facts_a_step = 2;
constexpr std::size_t words_a_step = 4;
constexpr std::size_t checks_a_step = 64;

bool goes_over_points(const Node& node) {
    if (node.op != Op::Name && node.op != Op::Call) return false;
    const auto* spec = function_named(node.word);
    return spec != nullptr && is_over_points(spec->function);
}

// Such functions do not stand inside one another, so what lies in the text of one is its own.
std::size_t nodes_at_each_point(const Expression& expression) {
    std::vector<bool> inside(expression.text().size() + 1, false);
    const auto at = [&](std::uint32_t byte) {
        return inside.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(byte, inside.size()));
    };
    for (const auto& node : expression.nodes())
        if (goes_over_points(node)) std::fill(at(node.begin), at(node.end), true);
    return static_cast<std::size_t>(
        std::count_if(expression.nodes().begin(), expression.nodes().end(),
                      [&](const Node& node) { return node.begin < inside.size() && inside[node.begin]; }));
}

bool looks_at_a_check(const Node& node) {
    if (node.op != Op::Call) return false;
    const auto* spec = function_named(node.word);
    return spec != nullptr && asks_a_check(spec->function);
}

std::size_t between_semicolons(const std::string& text) {
    return 1 + static_cast<std::size_t>(std::count(text.begin(), text.end(), ';'));
}

}  // namespace

ExampleSteps::ExampleSteps(const Check& check, const Library& library) : check_{check} {
    std::set<std::string> derived;
    const auto add = [&](const std::optional<Expression>& expression) {
        if (expression) count(*expression, derived);
    };
    add(check.applies);
    add(check.places_from);
    add(check.measurand);
    add(check.tolerance);
    add(check.target);
    add(check.together);
    add(check.concession_when);
    for (const auto& [answer, condition] : check.accept_when) count(condition, derived);
    for (const auto& validity : check.valid_when) count(validity.condition, derived);
    if (check.series)
        for (const auto& also : check.series->also) count(also, derived);
    words_ = check.places.size() + check.accept.size() + check.refuse.size();
    for (const auto& part : check.parts) {
        add(part.tolerance);
        add(part.target);
        add(part.applies);
        words_ += 1 + part.accept.size() + part.refuse.size();
    }
    derived_ = derived.size();
    const auto checks = std::accumulate(
        library.checklists.begin(), library.checklists.end(), std::size_t{0},
        [](std::size_t sum, const Checklist& list) { return sum + list.checks.size(); });
    asked_ *= 1 + checks / checks_a_step;
}

void ExampleSteps::count(const Expression& expression, std::set<std::string>& derived) {
    nodes_ += expression.nodes().size();
    each_point_ += nodes_at_each_point(expression);
    for (const auto& name : expression.names())
        if (derived_named(name) != nullptr) derived.insert(name);
    asked_ += static_cast<std::size_t>(
        std::count_if(expression.nodes().begin(), expression.nodes().end(), looks_at_a_check));
}

std::size_t ExampleSteps::of(const Example& example, std::size_t example_facts) const {
    const auto readings = between_semicolons(example.reading);
    const auto places = check_.kind == Kind::Positions ? readings : 1;
    const auto points = check_.kind == Kind::Series ? readings : 1;
    auto steps = for_an_example + (nodes_ + asked_) * places + each_point_ * points +
                 words_ * (places + example.parts.size()) / words_a_step;
    // On facts or values of its own no derived value is known yet.
    if (!example.facts.empty() || !example.values.empty())
        steps += example_facts / facts_a_step + derived_ * for_a_derived_value;
    return steps;
}

}  // namespace wm::checklist
