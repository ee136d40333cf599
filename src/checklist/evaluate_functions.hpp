// The functions of plain numbers: min, ceil, clamp, bearing_gap and the like.
#pragma once

#include <vector>

#include "checklist/evaluate.hpp"
#include "checklist/functions.hpp"

namespace wm::checklist {

/// The function of at least one number, as many as its FunctionSpec asks for. No value: the root
/// of a number below zero, a clamp upside down.
[[nodiscard]] Evaluated plain_function(Function function, const std::vector<units::Amount>& a);

}  // namespace wm::checklist
