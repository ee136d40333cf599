// The types that sums, products and functions of plain numbers give and take.
#include "checklist/type_functions.hpp"

#include <fmt/format.h>

#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>

#include "checklist/type_words.hpp"

namespace wm::checklist {
namespace {

bool is_any(const Type& type) {
    return type.sort == Sort::Any;
}
bool is_point(const Type& type) {
    return type.scale == units::Scale::Point;
}

Type plain(Type type) {
    type.scale = units::Scale::Plain;
    return type;
}

tl::unexpected<Expression::Fault> fault(const Node& node, std::string what,
                                        std::string what_to_do) {
    return tl::unexpected(
        Expression::Fault{std::move(what), std::move(what_to_do), node.begin, node.end});
}

}  // namespace

// A bare kPa may be meant either way; absolute and gauge together never.
bool scales_agree(units::Scale a, units::Scale b) {
    if (a == b) return true;
    if (a == units::Scale::Point || b == units::Scale::Point) return false;
    return a == units::Scale::Plain || b == units::Scale::Plain;
}

tl::expected<Type, Expression::Fault> type_of_sum(const Expression& e, const Node& node,
                                                  const Type& a, const Type& b) {
    if (is_any(a) || is_any(b)) return Type::of(Sort::Any);
    const bool adds = node.op == Op::Add;
    if (a.dimension != b.dimension) {
        return fault(
            e.node(node.operands[1]),
            fmt::format("{} {} and {}", adds ? "adds" : "subtracts", in_words(a), in_words(b)),
            remedy_for(a));
    }
    if (is_point(a) && is_point(b)) {
        if (!adds) return plain(a);
        return fault(node, "adds two temperatures",
                     "Add a difference in K to a temperature, for example 60 °C + 5 K.");
    }
    if (is_point(b)) {
        if (adds) return b;
        return fault(node, "takes a temperature away from a difference",
                     "Take one temperature from another, or a difference in K from a temperature.");
    }
    if (is_point(a)) return a;
    if (!scales_agree(a.scale, b.scale)) {
        return fault(e.node(node.operands[1]), "mixes a gauge pressure with an absolute one",
                     "Give both as gauge pressure, as a gauge on the roof shows them.");
    }
    return a;
}

tl::expected<Type, Expression::Fault> type_of_product(const Expression& e, const Node& node,
                                                      const Type& a, const Type& b) {
    if (is_any(a) || is_any(b)) return Type::of(Sort::Any);
    for (std::size_t n = 0; n < 2; ++n) {
        if (!is_point(n == 0 ? a : b)) continue;
        return fault(
            e.node(node.operands[n]),
            fmt::format("{} a temperature", node.op == Op::Multiply ? "multiplies" : "divides"),
            "Zero of this scale is no zero of warmth: use a difference in K.");
    }
    Type result = Type::of(Sort::Number);
    result.dimension =
        node.op == Op::Multiply ? a.dimension + b.dimension : a.dimension - b.dimension;
    if (b.dimension.is_plain()) result.scale = a.scale;
    for (const auto exponent : result.dimension.exponents) {
        constexpr int sensible = 12;
        if (exponent > sensible || exponent < -sensible) {
            return fault(node, "multiplies units to a power nothing is measured in",
                         "Take numbers without unit for plain factors.");
        }
    }
    return result;
}

tl::expected<Type, Expression::Fault> type_of_result(const Expression& e, const Node& call,
                                                     const FunctionSpec& spec, Type joint) {
    const Node& first = e.node(call.operands[0]);
    if (joint.sort == Sort::Any) return joint;
    const bool rounds = spec.function == Function::Ceil || spec.function == Function::Floor ||
                        spec.function == Function::Round;
    if (rounds && !joint.dimension.is_plain()) {
        return fault(first, fmt::format("rounds {} without saying in which unit", in_words(joint)),
                     "Divide by the unit first, for example ceil(sys.run_hot_m / 1 m).");
    }
    if (spec.function == Function::Abs && joint.scale == units::Scale::Point) {
        return fault(first, "takes the size of a temperature",
                     "Take the size of a difference, for example abs(reading - 60 °C).");
    }
    if (spec.function == Function::BearingGap && joint != Type::number(*units::unit_named("°"))) {
        return fault(first, fmt::format("takes the bearing of {}", in_words(joint)),
                     fmt::format("Write it like {}.", spec.example));
    }
    if (spec.function == Function::FullRise) {
        if (joint == Type::number(*units::unit_named("°C")))
            return Type::number(*units::unit_named("kPa"));
        return fault(first, fmt::format("takes a change of pressure from {}", in_words(joint)),
                     fmt::format("Write it like {}.", spec.example));
    }
    if (spec.function != Function::Sqrt) return joint;
    if (joint.scale == units::Scale::Point)
        return fault(first, "takes the root of a temperature", "Use a difference in K.");
    for (auto& exponent : joint.dimension.exponents) {
        if (exponent % 2 != 0) {
            return fault(
                first, fmt::format("takes the root of {}", in_words(joint)),
                "Divide by a value of the same unit first, so that a bare number is left.");
        }
        exponent = static_cast<std::int8_t>(exponent / 2);
    }
    joint.scale = units::Scale::Plain;
    return joint;
}

}  // namespace wm::checklist
