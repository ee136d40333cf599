#include "figures/pareto.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "drawing/text_block.hpp"

namespace wm::figures {

using drawing::Anchor;
using drawing::Ink;
using drawing::Weight;

namespace {

double row_ems(const ParetoChart& chart) { return chart.names == ParetoNames::Above ? 3.2 : 1.9; }

std::vector<ParetoBar> shown_bars(const ParetoChart& chart) {
    std::vector<ParetoBar> bars = chart.bars;
    std::stable_sort(bars.begin(), bars.end(),
                     [](const ParetoBar& a, const ParetoBar& b) { return a.count > b.count; });
    const auto most = static_cast<std::size_t>(std::max(chart.most, 1));
    if (bars.size() <= most) return bars;
    const int rest = std::accumulate(bars.begin() + chart.most, bars.end(), 0,
                                     [](int sum, const ParetoBar& bar) { return sum + bar.count; });
    const std::size_t others = bars.size() - most;
    bars.resize(most);
    bars.push_back({fmt::format("{} others", others), rest});
    return bars;
}

}  // namespace

double pareto_height(const ParetoChart& chart) {
    return chart.text_mm * (row_ems(chart) * static_cast<double>(shown_bars(chart).size()) + 1.6);
}

std::vector<drawing::Box> draw_pareto(drawing::Canvas& on, drawing::Box into, const ParetoChart& chart) {
    const auto bars = shown_bars(chart);
    const double em = chart.text_mm;
    int largest = 1;
    int total = 0;
    for (const ParetoBar& bar : bars) {
        largest = std::max(largest, bar.count);
        total += bar.count;
    }
    const bool above = chart.names == ParetoNames::Above;
    const double left = into.left + (above ? 0.0 : 0.32 * into.width);
    const double right = into.right() - 8.0 * em;
    on.text({into.right(), into.top + 0.9 * em}, "running share",
            {em, Weight::Regular, Ink::Faint, Anchor::End});
    int running = 0;
    std::vector<drawing::Box> strips;
    const double height = row_ems(chart) * em;
    double y = into.top + 1.6 * em + height - 0.95 * em;
    for (const ParetoBar& bar : bars) {
        running += bar.count;
        strips.push_back({into.left, y + 0.95 * em - height, into.width, height});
        const drawing::TextStyle name{em, Weight::Regular, Ink::Text, above ? Anchor::Start : Anchor::End};
        if (above) on.text({left, y - 0.85 * em}, drawing::fitted(on, bar.name, name, into.width), name);
        else on.text({left - 0.7 * em, y + 0.35 * em}, drawing::fitted(on, bar.name, name, left - 0.7 * em - into.left), name);
        const double width = (right - left) * bar.count / largest;
        on.fill_box({left, y - 0.55 * em, width, 1.1 * em}, 0.0, Ink::Faint);
        on.text({left + width + 0.5 * em, y + 0.35 * em}, fmt::format("{}", bar.count),
                {em, Weight::Bold, Ink::Text, Anchor::Start});
        if (total > 0) {
            on.text({into.right(), y + 0.35 * em},
                    fmt::format("{:.0f} %", std::round(100.0 * running / total)),
                    {em, Weight::Regular, Ink::Faint, Anchor::End});
        }
        y += height;
    }
    return strips;
}

}  // namespace wm::figures
