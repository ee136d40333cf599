// What the tables of computations of this room share: symbols, and counts read from arguments.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "audit/shares.hpp"
#include "units/workout.hpp"

namespace wm::audit {

using Outputs = Result<std::vector<units::Output>>;

[[nodiscard]] units::Symbol symbol(std::string name, std::string unit, std::string meaning);
[[nodiscard]] units::Symbol list_symbol(std::string name, std::string unit, std::string meaning);
[[nodiscard]] units::Symbol output(std::string name, std::string unit, std::string meaning,
                                   units::Shape shape = units::Shape::Number);
[[nodiscard]] units::Symbol optional(units::Symbol symbol);
/// An output that may be infinite.
[[nodiscard]] units::Symbol unbounded(units::Symbol symbol);

/// Whole numbers of 0 or more, below 2^53. `where` names the computation for the problem.
[[nodiscard]] Result<std::int64_t> count_of(const units::Arguments& given, std::string_view where,
                                            std::string_view symbol);
[[nodiscard]] Result<std::vector<std::int64_t>> counts_of(const units::Arguments& given,
                                                          std::string_view where,
                                                          std::string_view symbol);

/// Two lists side by side; a single number of tries holds for all.
[[nodiscard]] Result<std::vector<Tally>> tallies_of(const units::Arguments& given,
                                                    std::string_view where, std::string_view failed,
                                                    std::string_view tries);

/// One of each.
[[nodiscard]] Result<Tally> tally_of(const units::Arguments& given, std::string_view where,
                                     std::string_view failed, std::string_view tries);

[[nodiscard]] std::vector<units::Computation> chart_computations();
[[nodiscard]] std::vector<units::Computation> share_computations();
[[nodiscard]] std::vector<units::Computation> exact_computations();

}  // namespace wm::audit
