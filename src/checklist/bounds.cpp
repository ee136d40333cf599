// Taking limits out of a tolerance.
#include "checklist/bounds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "checklist/functions.hpp"
#include "checklist/words.hpp"
#include "units/unit.hpp"

namespace wm::checklist {
namespace {

using Index = std::uint32_t;
using units::Amount;

bool is_comparison_of_size(Op op) {
    return op == Op::AtLeast || op == Op::AtMost || op == Op::MoreThan || op == Op::LessThan ||
           op == Op::Between || op == Op::Within || op == Op::Is;
}

// `5 mm at most reading` says the same as `reading at least 5 mm`.
Op mirrored(Op op) {
    if (op == Op::AtLeast) return Op::AtMost;
    if (op == Op::AtMost) return Op::AtLeast;
    if (op == Op::MoreThan) return Op::LessThan;
    if (op == Op::LessThan) return Op::MoreThan;
    return op;
}

bool is_call_of(const Node& node, Function function) {
    if (node.op != Op::Call) return false;
    const auto* spec = function_named(node.word);
    return spec != nullptr && spec->function == function;
}

// What stands inside abs( ): the subject alone, or the subject minus a centre.
struct InsideAbs {
    Index subject = 0;
    std::optional<Index> centre;
};

std::optional<InsideAbs> inside_abs(const Expression& e, Index index, const IsSubject& is_subject) {
    const Node& node = e.node(index);
    if (!is_call_of(node, Function::Abs)) return std::nullopt;
    const Index inner = node.operands[0];
    const Node& inner_node = e.node(inner);
    if (inner_node.op == Op::Subtract && is_subject(inner_node.operands[0]) &&
        !is_subject(inner_node.operands[1]))
        return InsideAbs{inner_node.operands[0], inner_node.operands[1]};
    if (is_subject(inner)) return InsideAbs{inner, std::nullopt};
    return std::nullopt;
}

bool is_plain_subject(const Expression& e, Index index) {
    const Node& node = e.node(index);
    if (node.op == Op::Name) return true;
    if (node.op != Op::Call) return false;
    const auto* spec = function_named(node.word);
    return spec != nullptr &&
           (is_over_points(spec->function) || spec->function == Function::BearingGap);
}

class Collector {
public:
    Collector(const Expression& e, const Given& given, const IsSubject& is_subject)
        : e_{e}, given_{given}, is_subject_{is_subject} {}

    Bounds all() {
        visit(e_.root());
        return std::move(bounds_);
    }

private:
    void visit(Index index) {
        const Node& node = e_.node(index);
        if (!is_subject_(index) && node.op != Op::And && node.op != Op::If) {
            if (node.op != Op::Truth || node.word != "yes") bounds_.conditions.push_back(index);
            return;
        }
        if (node.op == Op::And) {
            visit(node.operands[0]);
            visit(node.operands[1]);
        } else if (node.op == Op::If) {
            follow(node.operands[0], node.operands[1], node.operands[2]);
        } else if (node.op == Op::Or) {
            either(index, node);
        } else if (!is_comparison_of_size(node.op) || !compare(node)) {
            bounds_.conditions.push_back(index);
        }
    }

    void follow(Index condition, Index one, Index other) {
        const auto holds = is_true(e_, condition, given_);
        if (holds)
            visit(*holds ? one : other);
        else
            gather(bounds_.missing, holds.error());
    }

    void either(Index index, const Node& node) {
        const bool left_free = !is_subject_(node.operands[0]);
        const bool right_free = !is_subject_(node.operands[1]);
        if (!left_free && !right_free) {
            bounds_.conditions.push_back(index);
            return;
        }
        const Index free_side = node.operands[left_free ? 0 : 1];
        const auto holds = is_true(e_, free_side, given_);
        if (!holds)
            gather(bounds_.missing, holds.error());
        else if (!*holds)
            visit(node.operands[left_free ? 1 : 0]);
    }

    // false if the comparison cannot be turned into limits
    bool compare(const Node& node) {
        const bool left = is_subject_(node.operands[0]);
        const bool right = is_subject_(node.operands[1]);
        if (left == right) return false;
        if (!left && (node.op == Op::Between || node.op == Op::Within)) return false;
        if (node.operands.size() > 2 && is_subject_(node.operands[2])) return false;
        const Index subject = node.operands[left ? 0 : 1];
        if (const auto inside = inside_abs(e_, subject, is_subject_))
            return around(node, left, *inside);
        if (!is_plain_subject(e_, subject)) return false;
        Bound bound = bound_for(subject);
        const bool known = fill(bound, left ? node.op : mirrored(node.op), node, left);
        if (known) join(std::move(bound));
        return true;
    }

    Bound bound_for(Index subject) {
        Bound bound;
        bound.subject = subject;
        const Node& node = e_.node(subject);
        if (!is_call_of(node, Function::BearingGap)) return bound;
        bound.binds = Binds::BearingGap;
        const Index other = is_subject_(node.operands[0]) ? node.operands[1] : node.operands[0];
        bound.centre = known_amount(other);
        return bound;
    }

    std::optional<Amount> known_amount(Index index) {
        const auto amount = amount_of(e_, index, given_);
        if (amount) return *amount;
        gather(bounds_.missing, amount.error());
        return std::nullopt;
    }

    bool fill(Bound& bound, Op op, const Node& node, bool subject_is_left) {
        const Index limit = node.operands[subject_is_left ? 1 : 0];
        if (op == Op::Within) return fill_within(bound, node);
        if (op == Op::Between) {
            bound.low = known_amount(node.operands[1]);
            bound.high = known_amount(node.operands[2]);
            return bound.low && bound.high;
        }
        const auto amount = known_amount(limit);
        if (!amount) return false;
        if (op == Op::AtLeast || op == Op::MoreThan || op == Op::Is) bound.low = amount;
        if (op == Op::AtMost || op == Op::LessThan || op == Op::Is) bound.high = amount;
        bound.low_itself_allowed = op != Op::MoreThan;
        bound.high_itself_allowed = op != Op::LessThan;
        return true;
    }

    bool fill_within(Bound& bound, const Node& node) {
        const auto far = known_amount(node.operands[1]);
        const auto of = known_amount(node.operands[2]);
        if (!far || !of) return false;
        const bool relative = e_.node(node.operands[1]).op == Op::Share;
        const double reach = std::abs(relative ? far->si * of->si : far->si);
        bound.low = Amount{of->si - reach, of->dimension, of->scale};
        bound.high = Amount{of->si + reach, of->dimension, of->scale};
        bound.centre = of;
        bound.centre_text = std::string{e_.text_of(node.operands[1])};
        return true;
    }

    // abs(subject) or abs(subject - centre), with one upper limit
    bool around(const Node& node, bool left, const InsideAbs& inside) {
        const Op op = left ? node.op : mirrored(node.op);
        if (op != Op::AtMost && op != Op::LessThan) return false;
        if (!is_plain_subject(e_, inside.subject)) return false;
        const auto reach = known_amount(node.operands[left ? 1 : 0]);
        const auto centre = inside.centre ? known_amount(*inside.centre) : std::optional{Amount{}};
        if (!reach || !centre) return true;
        Bound bound;
        bound.subject = inside.subject;
        bound.low = Amount{centre->si - reach->si, reach->dimension, centre->scale};
        bound.high = Amount{centre->si + reach->si, reach->dimension, centre->scale};
        bound.low_itself_allowed = bound.high_itself_allowed = op == Op::AtMost;
        if (inside.centre) {
            bound.centre = centre;
            bound.centre_text = std::string{e_.text_of(node.operands[left ? 1 : 0])};
        }
        join(std::move(bound));
        return true;
    }

    void join(Bound bound) {
        const auto same = std::find_if(
            bounds_.of_subjects.begin(), bounds_.of_subjects.end(),
            [&](const Bound& b) { return e_.text_of(b.subject) == e_.text_of(bound.subject); });
        if (same == bounds_.of_subjects.end()) {
            bounds_.of_subjects.push_back(std::move(bound));
            return;
        }
        if (bound.low && (!same->low || bound.low->si > same->low->si)) {
            same->low = bound.low;
            same->low_itself_allowed = bound.low_itself_allowed;
        }
        if (bound.high && (!same->high || bound.high->si < same->high->si)) {
            same->high = bound.high;
            same->high_itself_allowed = bound.high_itself_allowed;
        }
        if (bound.centre && !same->centre) {
            same->centre = bound.centre;
            same->centre_text = bound.centre_text;
        }
    }

    const Expression& e_;
    const Given& given_;
    const IsSubject& is_subject_;
    Bounds bounds_;
};

// The same walk without numbers.
class FormCheck {
public:
    FormCheck(const Expression& e, const IsSubject& is_subject) : e_{e}, is_subject_{is_subject} {}

    std::vector<Index> all() {
        visit(e_.root());
        return std::move(faults_);
    }

private:
    void visit(Index index) {
        if (!is_subject_(index)) return;
        const Node& node = e_.node(index);
        if (node.op == Op::And) {
            visit(node.operands[0]);
            visit(node.operands[1]);
        } else if (node.op == Op::If && !is_subject_(node.operands[0])) {
            visit(node.operands[1]);
            visit(node.operands[2]);
        } else if (node.op == Op::Or &&
                   !(is_subject_(node.operands[0]) && is_subject_(node.operands[1]))) {
            visit(node.operands[0]);
            visit(node.operands[1]);
        } else if (!is_drawable(node)) {
            faults_.push_back(index);
        }
    }

    bool is_drawable(const Node& node) const {
        if (!is_comparison_of_size(node.op)) return false;
        const bool left = is_subject_(node.operands[0]);
        if (left == is_subject_(node.operands[1])) return false;
        if (!left && (node.op == Op::Between || node.op == Op::Within)) return false;
        if (node.operands.size() > 2 && is_subject_(node.operands[2])) return false;
        const Index subject = node.operands[left ? 0 : 1];
        const Op op = left ? node.op : mirrored(node.op);
        if (const auto inside = inside_abs(e_, subject, is_subject_))
            return (op == Op::AtMost || op == Op::LessThan) &&
                   is_plain_subject(e_, inside->subject);
        return is_plain_subject(e_, subject);
    }

    const Expression& e_;
    const IsSubject& is_subject_;
    std::vector<Index> faults_;
};

}  // namespace

Bounds bounds_of(const Expression& expression, const Given& given, const IsSubject& is_subject) {
    return Collector{expression, given, is_subject}.all();
}

std::vector<std::uint32_t> undrawable(const Expression& expression, const IsSubject& is_subject) {
    return FormCheck{expression, is_subject}.all();
}

IsSubject mentions_reading(const Expression& expression) {
    return [&expression](Index node) { return expression.mentions(node, "reading"); };
}

}  // namespace wm::checklist
