// Columns of as many jobs as are asked for, made of drawn seasons.
#pragma once

#include <cstddef>
#include <limits>

#include "audit/columns.hpp"

namespace wm::bench {

/// Whichever is reached first ends it.
struct HowMany {
    std::size_t results = std::numeric_limits<std::size_t>::max();
    std::size_t jobs = std::numeric_limits<std::size_t>::max();
};

/// Jobs of drawn seasons one after the other, each with a number of its own, with their complaints: what an office with sixty
/// crews has after eight years. A third of the results is measured with a tool.
[[nodiscard]] audit::Columns many_results(const HowMany& wanted);

}  // namespace wm::bench
