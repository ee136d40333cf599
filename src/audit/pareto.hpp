// Which few causes make most of the failures.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"

namespace wm::audit {

struct NamedCount {
    std::string name;
    std::int64_t count = 0;
};

struct ParetoRow {
    std::string name;
    std::int64_t count = 0;
    std::size_t place = 0;          ///< in the list that was given
    double cumulative_share = 0.0;  ///< of all counts, this row included
};

struct Pareto {
    std::vector<ParetoRow> rows;
    std::size_t vital_few = 0;  ///< the first rows that make 80 % or more together
};

/// Most frequent first, ties by name; a row of the name `kept_last` ends the list whatever its
/// count. The 80 % are common practice. A count is not a rate: show failures per try beside it.
/// Problems: no counts, a negative one, all of them 0.
[[nodiscard]] Result<Pareto> pareto(std::span<const NamedCount> counts,
                                    std::string_view kept_last = {});

}  // namespace wm::audit
