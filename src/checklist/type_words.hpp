// Words and remedies for the dimension check.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "checklist/functions.hpp"
#include "checklist/types.hpp"

namespace wm::checklist {

/// "Give the limit in a unit of pressure, for example 3 bar."
[[nodiscard]] std::string remedy_for(const Type& wanted);

[[nodiscard]] Expression::Fault unknown_name(const Node& node, const Scope& scope);
[[nodiscard]] Expression::Fault unknown_function(const Node& node);

/// The words a fact, an answer or an outcome can be; empty where anything goes.
[[nodiscard]] std::vector<std::string> possible_words(const Expression& expression,
                                                      const Node& subject, const Scope& scope);

/// The type of outcome(), answer(), value() and commissioning(), or the fault of naming no check.
[[nodiscard]] tl::expected<Type, Expression::Fault> type_of_check(const Node& id, Function function,
                                                                  const Scope& scope);

}  // namespace wm::checklist
