// Round numbers for scales and charts.
#pragma once

#include <string>
#include <vector>

namespace wm::figures {

/// From low to high, low below high.
struct Span {
    double low = 0.0;
    double high = 1.0;
    friend bool operator==(const Span&, const Span&) = default;
};

/// The smallest span that holds all finite values; one value or equal values are given a little
/// room; none at all give 0 to 1.
[[nodiscard]] Span span_of(const std::vector<double>& values);

/// Widened on both sides by a share of its width.
[[nodiscard]] Span widened(Span span, double share);

/// Round positions (1, 2, 2.5 or 5 times a power of ten apart) within the span, at most `most`
/// of them, at least two if the span is finite.
[[nodiscard]] std::vector<double> round_ticks(Span span, int most);

/// The shortest text that tells ticks of this spacing apart: "0.25", "480", "-15".
[[nodiscard]] std::string tick_text(double value, double spacing);

/// Where `value` falls between two positions on the sheet; outside values fall outside.
[[nodiscard]] inline double placed(double value, Span span, double at_low, double at_high) {
    return at_low + (value - span.low) / (span.high - span.low) * (at_high - at_low);
}

}  // namespace wm::figures
