// Dimensions, limits that can be drawn, conditions that can be met.
#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "checklist/bounds.hpp"
#include "checklist/derived_names.hpp"
#include "checklist/evaluate.hpp"
#include "checklist/judge_number.hpp"
#include "checklist/lint_rules.hpp"
#include "checklist/types.hpp"
#include "checklist/words.hpp"

namespace wm::checklist {
namespace {

using Index = std::uint32_t;

// One expression of a check with what it must be.
class ExpressionLinter {
public:
    ExpressionLinter(const Linted& linted, const Check& check) : linted_{linted}, check_{check} {}

    void all() {
        const auto* own = &linted_.list;
        const auto* library = &linted_.library;
        const auto truth = Type::of(Sort::Truth);
        const auto facts = scope_of_facts(own, library);
        const auto judged = scope_of_tolerance(check_, own, library);
        const auto entered = scope_of_measurand(check_, own, library);
        const auto number =
            check_.judged_unit() ? Type::number(*check_.judged_unit()) : Type::of(Sort::Any);
        look(check_.applies, "applies", facts, truth);
        look(check_.places_from, "places_from", facts, Type::number(units::Unit{}));
        look(check_.measurand, "measurand", entered, number);
        look(check_.target, "target", facts, number);
        look(check_.tolerance, "tolerance", check_.kind == Kind::Computed ? facts : judged, truth);
        look(check_.together, "together", judged, truth);
        look(check_.concession_when, "concession_when",
             check_.kind == Kind::Computed ? facts : judged, truth);
        for (const auto& validity : check_.valid_when)
            look(validity.condition, "valid_when", judged, truth);
        for (const auto& [answer, condition] : check_.accept_when)
            look(condition, "accept_when", facts, truth);
        if (check_.series)
            for (const auto& also : check_.series->also) look(also, "also", judged, truth);
        for (const auto& part : check_.parts) look_at_part(part, truth);
        if (check_.is_numeric()) look_at_form(check_.tolerance, "tolerance");
        look_at_form(check_.together, "together");
        look_for_own_parts();
    }

private:
    std::string whose(std::string_view key) const {
        return fmt::format("the {} of \"{}\"", key, check_.id.text);
    }

    void look(const std::optional<Expression>& expression, std::string_view key, const Scope& scope,
              const Type& wanted) {
        if (expression) look(*expression, key, scope, wanted);
    }

    void look(const Expression& expression, std::string_view key, const Scope& scope,
              const Type& wanted) {
        if (const auto fault = fault_unless(expression, scope, wanted))
            linted_.findings.error_in(expression.at(), expression.text(), whose(key), *fault);
    }

    void look_at_part(const Part& part, const Type& truth) {
        const auto scope = scope_of_part(part, &linted_.list, &linted_.library);
        const auto key = fmt::format("part {}", part.name);
        look(part.tolerance, key, scope, truth);
        look(part.applies, key, scope_of_part_applies(check_, &linted_.list, &linted_.library), truth);
        if (part.unit) look(part.target, key, scope, Type::number(*part.unit));
    }

    // Each reading is judged by itself as it comes, and its outcome stands in its entry: an own part read later could
    // never close it. Only `together` is judged anew with each place.
    void look_for_own_parts() {
        if (check_.kind == Kind::Computed) return;
        if (check_.measurand) look_for_own_parts(*check_.measurand, "measurand");
        if (check_.tolerance) look_for_own_parts(*check_.tolerance, "tolerance");
        if (check_.concession_when) look_for_own_parts(*check_.concession_when, "concession_when");
        for (const auto& validity : check_.valid_when) look_for_own_parts(validity.condition, "valid_when");
        if (check_.series)
            for (const auto& also : check_.series->also) look_for_own_parts(also, "also");
    }

    void look_for_own_parts(const Expression& expression, std::string_view key) {
        for (const auto& node : expression.nodes()) {
            if (node.op != Op::Name) continue;
            const auto part = std::find_if(check_.parts.begin(), check_.parts.end(),
                                           [&](const Part& each) { return as_name(each.name) == node.word; });
            if (part == check_.parts.end()) continue;
            linted_.findings.error_in(expression.at(), expression.text(), whose(key),
                                      {fmt::format("names \"{}\", a part of the same check, which may be read after it", part->name),
                                       "Make it a check of its own that comes before, and name that one.", node.begin, node.end});
        }
    }

    void look_at_form(const std::optional<Expression>& expression, std::string_view key) {
        if (!expression) return;
        for (const Index node : undrawable(*expression, mentions_reading(*expression))) {
            const auto& faulty = expression->node(node);
            linted_.findings.error_in(
                expression->at(), expression->text(), whose(key),
                {"holds the reading against something no limit can be drawn for",
                 "Join conditions of the form `reading at least …`, `at most`, `between`, `within` "
                 "or `is` with \"and\", "
                 "or choose between them with if … then … else ….",
                 faulty.begin, faulty.end});
        }
    }

    const Linted& linted_;
    const Check& check_;
};

// Values a fact may take, as far as they can make a difference to one condition.
std::vector<std::optional<FactValue>> candidates(const std::string& key,
                                                 const Expression& expression) {
    const auto* spec = fact_named(key);
    std::vector<std::optional<FactValue>> values;
    const auto add = [&](std::string_view text) {
        if (auto value = read_fact(key, text)) values.emplace_back(*std::move(value));
    };
    if (spec->type == FactType::Choice) {
        for (const auto& word : spec->choice_words()) add(word);
    } else if (spec->type == FactType::YesNo) {
        add("yes");
        add("no");
    } else if (spec->type == FactType::Number || spec->type == FactType::Integer) {
        const auto unit = spec->unit_in_use();
        std::vector<double> marks{spec->low.value_or(0.0), spec->high.value_or(1.0)};
        for (const auto& node : expression.nodes())
            if (node.op == Op::Number && node.number.dimension == unit.dimension)
                marks.push_back(node.number.in(unit));
        std::sort(marks.begin(), marks.end());
        for (std::size_t i = 0; i < marks.size(); ++i) {
            for (const double mark :
                 {marks[i],
                  i + 1 < marks.size() ? (marks[i] + marks[i + 1]) / 2.0 : marks[i] + 1.0}) {
                FactValue value;
                value.key = key;
                value.number = units::Amount::of(mark, unit);
                values.emplace_back(std::move(value));
            }
        }
    } else {
        return {};
    }
    const bool may_be_unknown =
        std::any_of(expression.nodes().begin(), expression.nodes().end(),
                    [](const Node& node) { return node.op == Op::Call && node.word == "known"; });
    if (may_be_unknown) values.emplace_back(std::nullopt);
    return values;
}

// Whether some house can meet the condition. Every combination of the values that matter is tried,
// within a budget for the whole file; beyond it the answer is yes.
class Reach {
public:
    bool can_hold(const Expression& condition, const Library& library) {
        std::vector<std::vector<std::optional<FactValue>>> choices;
        std::size_t combinations = 1;
        constexpr std::size_t most_combinations = 2000;
        for (const auto& name : condition.names()) {
            if (fact_named(name) == nullptr) continue;
            auto values = candidates(name, condition);
            if (values.empty()) continue;
            combinations *= values.size();
            if (combinations > most_combinations) return true;
            choices.push_back(std::move(values));
        }
        const auto cost = combinations * steps_of(condition);
        if (cost > budget_) return true;
        budget_ -= cost;
        for (std::size_t n = 0; n < combinations; ++n)
            if (!is_surely_false(condition, library, choices, n)) return true;
        return false;
    }

private:
    // On each combination a derived value is worked out anew, which takes as long as many nodes.
    static std::size_t steps_of(const Expression& condition) {
        constexpr std::size_t for_a_derived_value = 25;
        std::size_t steps = condition.nodes().size();
        for (const auto& name : condition.names())
            if (derived_named(name) != nullptr) steps += for_a_derived_value;
        return steps;
    }

    static bool is_surely_false(const Expression& condition, const Library& library,
                                const std::vector<std::vector<std::optional<FactValue>>>& choices,
                                std::size_t n) {
        Facts facts;
        for (const auto& values : choices) {
            const auto& value = values[n % values.size()];
            n /= values.size();
            if (value) facts.set(*value);
        }
        const Context context{facts, library, "2000-01-01", {}, {}, {}, {}};
        const auto holds = is_true(condition, condition.root(), {context, {}, nullptr});
        return holds && !*holds;
    }

    // More than fifty times what the conditions of any file shipped take.
    std::size_t budget_ = 500'000;
};

}  // namespace

void lint_expressions(const Linted& linted) {
    for (const auto& check : linted.list.checks) {
        if (linted.findings.is_full()) return;
        ExpressionLinter{linted, check}.all();
    }
}

void lint_reach(const Linted& linted) {
    Reach reach;
    for (const auto& check : linted.list.checks) {
        if (!check.applies || linted.findings.is_full()) continue;
        const auto scope = scope_of_facts(&linted.list, &linted.library);
        if (fault_unless(*check.applies, scope, Type::of(Sort::Truth))) continue;
        if (reach.can_hold(*check.applies, linted.library)) continue;
        linted.findings.error_in(check.applies->at(), check.applies->text(),
                                 fmt::format("the check \"{}\"", check.id.text),
                                 {"can never be asked: its condition is false for every house",
                                  "Loosen applies, or take the check out.", 0,
                                  static_cast<std::uint32_t>(check.applies->text().size())});
    }
}

namespace {

void lint_fitness(const Linted& linted, const std::string& whose, Position at, const NumberCase& of,
                  const Given& given) {
    const auto fitness = fitness_of(of, given);
    if (!fitness) return;
    const auto type = of.doubt.type.value_or("");
    if (*fitness == measure::Fitness::EmptyAcceptance)
        linted.findings.error(
            at,
            fmt::format("{} leaves nothing between the guard strips of the weakest permitted {}",
                        whose, type),
            "Name a better instrument, or widen the tolerance.");
    if (*fitness == measure::Fitness::TooCoarse)
        linted.findings.advise(
            at, fmt::format("the weakest permitted {} is too coarse for {}", type, whose),
            "Name a better instrument, a target, or a wider tolerance; otherwise such readings "
            "stay inconclusive.");
}

void lint_plausible(const Linted& linted, const std::string& whose, Position at,
                    const Limits& limits, const PlausibleRange& range, const units::Unit& unit) {
    const bool above = limits.low && limits.low->in(unit) > range.high;
    const bool below = limits.high && limits.high->in(unit) < range.low;
    if (!above && !below) return;
    linted.findings.error(
        at, fmt::format("{} allows {}, which lies outside the plausible range", whose, limits.text),
        fmt::format("Put right the tolerance, or plausible = [{}, {}].", range.low, range.high));
}

}  // namespace

void lint_limits(const Linted& linted) {
    const auto facts = facts_for(linted.list, nullptr);
    Context context{facts, linted.library, linted.list.date, {}, {}, {}, {}};
    DerivedValues derived{facts, linted.library, context.value_of};
    context.derived = &derived;
    const Given given{context, {}, nullptr};
    for (const auto& check : linted.list.checks) {
        if (linted.findings.is_full()) return;
        if (check.is_numeric()) {
            auto of = number_case(check);
            const bool together = of.tolerance == nullptr;
            if (together && check.together) of.tolerance = &*check.together;
            const auto whose =
                fmt::format("the {} of \"{}\"", together ? "together" : "tolerance", check.id.text);
            const auto at = place_in(check, together ? "together" : "tolerance");
            lint_fitness(linted, whose, at, of, given);
            if (check.plausible && !check.measurand && check.unit)
                lint_plausible(linted, whose, at, limits_of(of, given, std::nullopt),
                               *check.plausible, *check.unit);
        }
        for (const auto& part : check.parts) {
            if (part.kind != Kind::Quantity || !part.tolerance || !part.unit) continue;
            const auto of = number_case(check, part);
            const auto whose =
                fmt::format("the tolerance of part \"{}\" of \"{}\"", part.name, check.id.text);
            lint_fitness(linted, whose, part.tolerance->at(), of, given);
            if (part.plausible)
                lint_plausible(linted, whose, part.tolerance->at(),
                               limits_of(of, given, std::nullopt), *part.plausible, *part.unit);
        }
    }
}

}  // namespace wm::checklist
