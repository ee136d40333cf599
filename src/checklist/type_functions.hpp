// The types that sums, products and functions of plain numbers give and take.
#pragma once

#include "checklist/functions.hpp"
#include "checklist/types.hpp"

namespace wm::checklist {

/// Whether two scales may stand together: a bare kPa may be meant either way, absolute and gauge
/// together never.
[[nodiscard]] bool scales_agree(units::Scale a, units::Scale b);

/// The type of `a + b` or `a - b`. Two temperatures have a difference and no sum.
[[nodiscard]] tl::expected<Type, Expression::Fault> type_of_sum(const Expression& e,
                                                                const Node& node, const Type& a,
                                                                const Type& b);
/// The type of `a * b` or `a / b`. A temperature has neither.
[[nodiscard]] tl::expected<Type, Expression::Fault> type_of_product(const Expression& e,
                                                                    const Node& node, const Type& a,
                                                                    const Type& b);

/// The type of min, ceil, sqrt, clamp and the like, whose operands share the type `joint`; or what
/// the function cannot be asked of that type: rounding a length, the root of an odd power.
[[nodiscard]] tl::expected<Type, Expression::Fault> type_of_result(const Expression& e,
                                                                   const Node& call,
                                                                   const FunctionSpec& spec,
                                                                   Type joint);

}  // namespace wm::checklist
