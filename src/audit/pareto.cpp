// Ranking of counts.
#include "audit/pareto.hpp"

#include <algorithm>
#include <tuple>

#include "measure/demands.hpp"

namespace wm::audit {

Result<Pareto> pareto(std::span<const NamedCount> counts, std::string_view kept_last) {
    std::int64_t total = 0;
    measure::Demands demands{"pareto"};
    for (const NamedCount& each : counts) {
        demands.that(each.count >= 0, "n", "a count must not be below 0");
        total += each.count;
    }
    demands.that(total > 0, "n", "at least one count must be above 0");
    if (demands.unmet()) return refused(*demands.unmet());

    Pareto result;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        result.rows.push_back({counts[i].name, counts[i].count, i, 0.0});
    }
    std::stable_sort(result.rows.begin(), result.rows.end(),
                     [&](const ParetoRow& a, const ParetoRow& b) {
                         const auto rank = [&](const ParetoRow& row) {
                             const bool last = !kept_last.empty() && row.name == kept_last;
                             return std::tuple{last, -row.count, std::string_view{row.name}};
                         };
                         return rank(a) < rank(b);
                     });
    std::int64_t running = 0;
    for (ParetoRow& row : result.rows) {
        // In whole numbers, so that exactly 80 % counts as 80 %.
        if (10 * running < 8 * total) ++result.vital_few;
        running += row.count;
        row.cumulative_share = static_cast<double>(running) / static_cast<double>(total);
    }
    return result;
}

}  // namespace wm::audit
