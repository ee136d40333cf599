#include "figures/axis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace wm::figures {

Span span_of(const std::vector<double>& values) {
    bool any = false;
    Span span;
    for (const double value : values) {
        if (!std::isfinite(value)) continue;
        span.low = any ? std::min(span.low, value) : value;
        span.high = any ? std::max(span.high, value) : value;
        any = true;
    }
    if (!any) return {};
    const double least = std::max(std::abs(span.high) * 1e-3, 1e-6);
    if (span.high - span.low < least) return {span.low - least, span.high + least};
    return span;
}

Span widened(Span span, double share) {
    const double extra = (span.high - span.low) * share;
    return {span.low - extra, span.high + extra};
}

std::vector<double> round_ticks(Span span, int most) {
    const double width = span.high - span.low;
    if (!(width > 0.0) || !std::isfinite(width) || most < 2) return {};
    double decade = std::pow(10.0, std::floor(std::log10(width)) - 1.0);
    for (;; decade *= 10.0) {
        for (const double step : {1.0, 2.0, 2.5, 5.0}) {
            const double spacing = step * decade;
            const double first = std::ceil(span.low / spacing - 1e-9);
            const double last = std::floor(span.high / spacing + 1e-9);
            if (last - first + 1.0 > most) continue;
            std::vector<double> ticks;
            for (double k = first; k <= last; k += 1.0) ticks.push_back(k * spacing);
            return ticks;
        }
    }
}

std::string tick_text(double value, double spacing) {
    int decimals = 0;
    double left = std::abs(spacing);
    while (decimals < 6 && std::abs(left - std::round(left)) > 1e-6 * left) {
        left *= 10.0;
        ++decimals;
    }
    std::string text = fmt::format("{:.{}f}", value, decimals);
    const bool is_zero = text.find_first_of("123456789") == std::string::npos;
    return is_zero && text.front() == '-' ? text.substr(1) : text;
}

}  // namespace wm::figures
