#include "figures/shade_chart.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace wm::figures {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::TextStyle;
using drawing::Weight;

namespace {

double top_of(const std::vector<ShadeMonth>& months) {
    double largest = 0.0;
    for (const auto& month : months) largest = std::max(largest, month.share);
    return largest <= 0.25 ? 0.25 : largest <= 0.5 ? 0.5 : 1.0;
}

}  // namespace

void draw_shade_chart(Canvas& on, Box into, const ShadeChart& chart) {
    if (chart.months.empty()) return;
    const TextStyle faint{chart.text_mm, Weight::Regular, Ink::Faint, Anchor::End};
    TextStyle below = faint;
    below.anchor = Anchor::Middle;
    TextStyle above = below;
    above.ink = Ink::Text;
    const double line = 1.4 * chart.text_mm;
    const double top_share = top_of(chart.months);
    const Box field{into.left + 4.5 * chart.text_mm, into.top + line, into.width - 4.5 * chart.text_mm,
                    into.height - 2.0 * line};
    const auto y_of = [&](double share) { return field.bottom() - field.height * share / top_share; };
    for (const double share : {0.0, 0.5 * top_share, top_share}) {
        on.line({field.left, y_of(share)}, {field.right(), y_of(share)}, {Ink::Hairline, 0.15});
        on.text({field.left - 0.5 * chart.text_mm, y_of(share) + 0.35 * chart.text_mm},
                fmt::format("{:.3g} %", 100.0 * share), faint);
    }
    const double step = field.width / static_cast<double>(chart.months.size());
    double x = field.left;
    for (const auto& month : chart.months) {
        const double high = y_of(month.share);
        on.fill_box({x + 0.25 * step, high, 0.5 * step, field.bottom() - high}, 0.0, Ink::Faint);
        on.text({x + 0.5 * step, high - 0.3 * chart.text_mm}, fmt::format("{:.0f}", 100.0 * month.share), above);
        on.text({x + 0.5 * step, field.bottom() + 1.05 * chart.text_mm}, month.name, below);
        x += step;
    }
}

}  // namespace wm::figures
