// Working out an expression.
#include "checklist/evaluate.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "checklist/derived_names.hpp"
#include "checklist/evaluate_functions.hpp"
#include "checklist/evaluate_points.hpp"
#include "checklist/functions.hpp"
#include "measure/outcome.hpp"

namespace wm::checklist {
namespace {

using Index = std::uint32_t;
using units::Amount;

constexpr double forgiven = 1e-12;

bool at_most(double a, double b) {
    return a <= b + forgiven * std::max(std::abs(a), std::abs(b));
}
bool same(double a, double b) {
    return at_most(a, b) && at_most(b, a);
}

Missing trouble(std::string words) {
    Missing missing;
    missing.trouble = std::move(words);
    return missing;
}

// Values of other checklists and jobs pass the dimension check unseen; they are looked at here.
bool are_alike(const Value& a, const Value& b) {
    if (a.index() != b.index()) return false;
    const auto* x = std::get_if<Amount>(&a);
    return x == nullptr || x->dimension == std::get<Amount>(b).dimension;
}

// -1, 0 or 1, as far as two values of one kind have an order.
int order_of(const Value& a, const Value& b) {
    if (const auto* x = std::get_if<Amount>(&a)) {
        const double y = std::get<Amount>(b).si;
        if (same(x->si, y)) return 0;
        return x->si < y ? -1 : 1;
    }
    if (const auto* x = std::get_if<Day>(&a)) {
        const auto& y = std::get<Day>(b);
        return *x == y ? 0 : *x < y ? -1 : 1;
    }
    if (const auto* x = std::get_if<bool>(&a)) return *x == std::get<bool>(b) ? 0 : 1;
    return std::get<std::string>(a) == std::get<std::string>(b) ? 0 : 1;
}

class Evaluator {
public:
    Evaluator(const Expression& expression, const Given& given) : e_{expression}, given_{given} {}

    Evaluated value(Index index) {
        const Node& node = e_.node(index);
        switch (node.op) {
            case Op::Number:
            case Op::Share:
                return node.number;
            case Op::Word:
                return node.word;
            case Op::Date:
                return Day{node.word};
            case Op::Truth:
                return node.word == "yes";
            case Op::Name:
                return name(node.word);
            case Op::Call:
                return call(node);
            case Op::Negate:
            case Op::Add:
            case Op::Subtract:
            case Op::Multiply:
            case Op::Divide:
                return arithmetic(node);
            case Op::AtLeast:
            case Op::AtMost:
            case Op::MoreThan:
            case Op::LessThan:
            case Op::Between:
            case Op::Within:
            case Op::Is:
            case Op::IsNot:
            case Op::IsOneOf:
            case Op::IsNotOneOf:
                return comparison(node);
            case Op::And:
            case Op::Or:
                return junction(node);
            case Op::Not:
                return negated(node);
            case Op::If:
                return branch(node);
        }
        return trouble_here("nothing to work out");
    }

private:
    static tl::unexpected<Missing> trouble_here(std::string words) {
        return tl::unexpected(trouble(std::move(words)));
    }
    static tl::unexpected<Missing> fact_missing(std::string key) {
        Missing missing;
        missing.facts.push_back(std::move(key));
        return tl::unexpected(std::move(missing));
    }
    static tl::unexpected<Missing> check_missing(std::string id) {
        Missing missing;
        missing.checks.push_back(std::move(id));
        return tl::unexpected(std::move(missing));
    }

    // Every operand, or all that is missing for them together.
    tl::expected<std::vector<Value>, Missing> operands(const Node& node) {
        std::vector<Value> values;
        Missing missing;
        for (const Index index : node.operands) {
            auto one = value(index);
            if (one)
                values.push_back(*std::move(one));
            else
                gather(missing, one.error());
        }
        if (!missing.none()) return tl::unexpected(std::move(missing));
        return values;
    }

    Evaluated name(const std::string& word) {
        if (point_ && given_.points != nullptr) {
            const auto& channels = given_.points->channels;
            const auto found = std::find(channels.begin(), channels.end(), word);
            if (found != channels.end())
                return given_.points
                    ->rows[*point_][static_cast<std::size_t>(found - channels.begin())];
        }
        if (const auto found = given_.names.find(word); found != given_.names.end())
            return found->second;
        if (const auto* spec = function_named(word))
            return over_all_points(*spec, std::nullopt, 0.0);
        if (word == "today") return Day{given_.context.today};
        if (const auto* spec = derived_named(word)) return derived(*spec);
        if (fact_named(word) != nullptr) return fact(word);
        constexpr std::string_view prefix = "setting.";
        if (word.starts_with(prefix)) return setting(word.substr(prefix.size()));
        return trouble_here("\"" + word + "\" has not been read yet");
    }

    Evaluated fact(const std::string& key) const {
        const auto* found = given_.context.facts.find(key);
        if (found == nullptr) return fact_missing(key);
        if (found->number) return *found->number;
        if (found->yes) return *found->yes;
        const auto* spec = fact_named(key);
        const bool is_day = spec->type == FactType::Date || spec->type == FactType::Licence;
        if (!is_day) return found->word;
        if (!found->date) return fact_missing(key);
        return Day{*found->date};
    }

    Evaluated derived(const DerivedSpec& spec) {
        const auto& value = values_of_house().of(spec);
        if (!value.missing.empty()) {
            Missing missing;
            missing.facts = value.missing;
            return tl::unexpected(std::move(missing));
        }
        if (!value.si) return trouble_here(value.si.error().what);
        const auto unit = units::unit_named(spec.unit).value_or(units::Unit{});
        return Amount{*value.si, unit.dimension, unit.scale};
    }

    DerivedValues& values_of_house() {
        const auto& context = given_.context;
        if (context.derived != nullptr) {
            assert(context.derived->is_about(context.facts) && "kept values are of these very facts");
            return *context.derived;
        }
        if (!own_) own_.emplace(context.facts, context.library, context.value_of);
        return *own_;
    }

    Evaluated setting(std::string_view name) const {
        const auto* found = given_.context.library.setting_named(name);
        const auto unit = found == nullptr ? std::nullopt : units::unit_named(found->unit);
        if (!unit) return trouble_here("the setting \"" + std::string{name} + "\" is not there");
        return Amount::of(found->value, *unit);
    }

    // The operands as numbers.
    tl::expected<std::vector<Amount>, Missing> amounts(const Node& node) {
        const auto values = operands(node);
        if (!values) return tl::unexpected(values.error());
        std::vector<Amount> amounts;
        for (const auto& one : *values) {
            const auto* amount = std::get_if<Amount>(&one);
            if (amount == nullptr) return trouble_here("a word where a number is needed");
            amounts.push_back(*amount);
        }
        return amounts;
    }

    Evaluated arithmetic(const Node& node) {
        const auto values = amounts(node);
        if (!values) return tl::unexpected(values.error());
        const auto& a = values->front();
        if (node.op == Op::Negate) return Amount{-a.si, a.dimension, a.scale};
        const auto& b = values->back();
        const bool sums = node.op == Op::Add || node.op == Op::Subtract;
        if (sums && a.dimension != b.dimension)
            return trouble_here("a sum of two different kinds of quantity");
        const bool a_is_point = a.scale == units::Scale::Point;
        const bool b_is_point = b.scale == units::Scale::Point;
        if (node.op == Op::Add)
            return finite({a.si + b.si, a.dimension, a_is_point ? a.scale : b.scale});
        if (node.op == Op::Subtract)
            return finite({a.si - b.si, a.dimension,
                           a_is_point && b_is_point ? units::Scale::Plain : a.scale});
        const auto scale = b.dimension.is_plain() ? a.scale : units::Scale::Plain;
        if (node.op == Op::Multiply) return finite({a.si * b.si, a.dimension + b.dimension, scale});
        if (b.si == 0.0) return trouble_here("a division by zero");
        return finite({a.si / b.si, a.dimension - b.dimension, scale});
    }

    static Evaluated finite(Amount amount) {
        if (!std::isfinite(amount.si)) return trouble_here("a number too large to count with");
        return amount;
    }

    Evaluated comparison(const Node& node) {
        const auto values = operands(node);
        if (!values) return tl::unexpected(values.error());
        const Value& left = values->front();
        const bool relative = node.op == Op::Within && e_.node(node.operands[1]).op == Op::Share;
        for (std::size_t n = 1; n < values->size(); ++n)
            if (!are_alike(left, (*values)[n]) && !(relative && n == 1))
                return trouble_here("a comparison of two different kinds of value");
        const auto equals = [&](const Value& other) { return order_of(left, other) == 0; };
        if (node.op == Op::Within) return is_within(*values, relative);
        const bool listed = std::any_of(values->begin() + 1, values->end(), equals);
        const int order = values->size() > 1 ? order_of(left, (*values)[1]) : 0;
        switch (node.op) {
            case Op::AtLeast:
                return order >= 0;
            case Op::AtMost:
                return order <= 0;
            case Op::MoreThan:
                return order > 0;
            case Op::LessThan:
                return order < 0;
            case Op::Between:
                return order >= 0 && order_of(left, (*values)[2]) <= 0;
            case Op::Within:
                break;
            case Op::Is:
            case Op::IsOneOf:
                return listed;
            case Op::IsNot:
            case Op::IsNotOneOf:
                return !listed;
            case Op::Number:
            case Op::Share:
            case Op::Word:
            case Op::Date:
            case Op::Truth:
            case Op::Name:
            case Op::Call:
            case Op::Negate:
            case Op::Add:
            case Op::Subtract:
            case Op::Multiply:
            case Op::Divide:
            case Op::And:
            case Op::Or:
            case Op::Not:
            case Op::If:
                break;
        }
        return trouble_here("nothing to compare");
    }

    static Evaluated is_within(const std::vector<Value>& values, bool relative) {
        if (std::get_if<Amount>(&values[0]) == nullptr)
            return trouble_here("a distance between words");
        const double what = std::get<Amount>(values[0]).si;
        const double far = std::get<Amount>(values[1]).si;
        const double of = std::get<Amount>(values[2]).si;
        const double reach = std::abs(relative ? far * of : far);
        return at_most(of - reach, what) && at_most(what, of + reach);
    }

    tl::expected<bool, Missing> truth(Index index) {
        const auto found = value(index);
        if (!found) return tl::unexpected(found.error());
        const auto* truth = std::get_if<bool>(&*found);
        if (truth == nullptr) return trouble_here("a condition that is none");
        return *truth;
    }

    // A side that decides alone decides, even when the other cannot be known.
    Evaluated junction(const Node& node) {
        const bool decisive = node.op == Op::Or;
        const auto a = truth(node.operands[0]);
        if (a && *a == decisive) return decisive;
        const auto b = truth(node.operands[1]);
        if (b && *b == decisive) return decisive;
        if (a && b) return !decisive;
        Missing missing;
        if (!a) gather(missing, a.error());
        if (!b) gather(missing, b.error());
        return tl::unexpected(std::move(missing));
    }

    Evaluated negated(const Node& node) {
        const auto inner = truth(node.operands[0]);
        if (!inner) return tl::unexpected(inner.error());
        return !*inner;
    }

    Evaluated branch(const Node& node) {
        const auto condition = truth(node.operands[0]);
        if (!condition) return tl::unexpected(condition.error());
        return value(node.operands[*condition ? 1 : 2]);
    }

    Evaluated call(const Node& node) {
        const auto* spec = function_named(node.word);
        if (spec == nullptr) return trouble_here("a function nobody knows");
        if (spec->function == Function::Known)
            return given_.context.facts.knows(e_.node(node.operands[0]).word);
        if (asks_a_check(spec->function))
            return of_check(spec->function, e_.node(node.operands[0]).word);
        if (is_late(spec->function)) {
            const auto how_late = value(node.operands[0]);
            if (!how_late) return how_late;
            const auto* time = std::get_if<Amount>(&*how_late);
            if (time == nullptr) return trouble_here("a time that is none");
            return over_all_points(*spec, node.operands[1], time->si);
        }
        if (is_over_points(spec->function)) return over_all_points(*spec, node.operands[0], 0.0);
        const auto values = amounts(node);
        if (!values) return tl::unexpected(values.error());
        return plain_function(spec->function, *values);
    }

    Evaluated of_check(Function function, const std::string& id) const {
        const CheckId check{id};
        const Context& context = given_.context;
        if (function == Function::OutcomeOf) {
            const auto outcome = context.outcome_of ? context.outcome_of(check) : std::nullopt;
            if (!outcome || *outcome == Outcome::Open) return check_missing(id);
            return std::string{measure::in_words(*outcome)};
        }
        if (function == Function::AnswerOf) return answer(check);
        const auto& ask =
            function == Function::ValueOf ? context.value_of : context.earlier_value_of;
        const auto value = ask ? ask(check) : std::nullopt;
        if (!value) return check_missing(id);
        return *value;
    }

    Evaluated answer(const CheckId& check) const {
        const auto& context = given_.context;
        const auto text = context.answer_of ? context.answer_of(check) : std::nullopt;
        if (!text) return check_missing(check.text);
        const auto* model = context.library.find(check);
        if (model != nullptr && model->kind == Kind::Confirm) return *text == "yes";
        return *text;
    }

    // `what` is worked out for each point; without it the single channel itself counts.
    Evaluated over_all_points(const FunctionSpec& spec, std::optional<Index> what, double late_s) {
        if (given_.points == nullptr || given_.points->rows.empty())
            return trouble_here("no readings are there yet");
        std::vector<Amount> column;
        Missing missing;
        const auto outer = point_;
        for (std::size_t row = 0; row < given_.points->rows.size(); ++row) {
            point_ = row;
            auto one = what ? value(*what) : Evaluated{given_.points->rows[row].front()};
            const auto* amount = one ? std::get_if<Amount>(&*one) : nullptr;
            if (amount != nullptr)
                column.push_back(*amount);
            else
                gather(missing, one ? trouble("a word where a number is needed") : one.error());
        }
        point_ = outer;
        if (!missing.none()) return tl::unexpected(std::move(missing));
        return summary_of(spec.function, column, given_.points->times_s, late_s);
    }

    const Expression& e_;
    const Given& given_;
    std::optional<std::size_t> point_;
    std::optional<DerivedValues> own_;
};

}  // namespace

void gather(Missing& into, const Missing& more) {
    const auto add = [](std::vector<std::string>& list, const std::vector<std::string>& items) {
        for (const auto& item : items)
            if (std::find(list.begin(), list.end(), item) == list.end()) list.push_back(item);
    };
    add(into.facts, more.facts);
    add(into.checks, more.checks);
    if (into.trouble.empty()) into.trouble = more.trouble;
}

Evaluated evaluate(const Expression& expression, std::uint32_t node, const Given& given) {
    return Evaluator{expression, given}.value(node);
}

Evaluated evaluate(const Expression& expression, const Given& given) {
    return evaluate(expression, expression.root(), given);
}

tl::expected<bool, Missing> is_true(const Expression& expression, std::uint32_t node,
                                    const Given& given) {
    const auto found = evaluate(expression, node, given);
    if (!found) return tl::unexpected(found.error());
    const auto* truth = std::get_if<bool>(&*found);
    if (truth == nullptr) return tl::unexpected(trouble("a condition that is none"));
    return *truth;
}

tl::expected<Amount, Missing> amount_of(const Expression& expression, std::uint32_t node,
                                        const Given& given) {
    const auto found = evaluate(expression, node, given);
    if (!found) return tl::unexpected(found.error());
    const auto* amount = std::get_if<Amount>(&*found);
    if (amount == nullptr) return tl::unexpected(trouble("a number that is none"));
    return *amount;
}

}  // namespace wm::checklist
