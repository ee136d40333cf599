#include "figures/tolerance_scale.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "drawing/shapes.hpp"
#include "figures/axis.hpp"
#include "figures/outcome_mark.hpp"

namespace wm::figures {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::Point;
using drawing::TextStyle;
using drawing::Weight;

namespace {

Span shown_span(const ToleranceScale& scale) {
    std::vector<double> values;
    for (const auto& value :
         {scale.low, scale.high, scale.target, scale.show_from, scale.show_to}) {
        if (value) values.push_back(*value);
    }
    const bool has_range = values.size() > 1;
    if (scale.reading && !(scale.show_from && scale.show_to)) {
        // A reading far off would squeeze the tolerance to nothing: follow it for two widths only.
        const Span limits = span_of(values);
        const Span room = widened(limits, 2.0);
        values.push_back(has_range ? std::clamp(*scale.reading, room.low, room.high)
                                   : *scale.reading);
    }
    Span span = span_of(values);
    if (!(scale.show_from && scale.show_to)) span = widened(span, 0.18);
    if (scale.high && !scale.low && scale.reading && *scale.high > 0.0 && *scale.reading >= 0.0) {
        span.low = std::min(span.low, 0.0);
    }
    return span;
}

class ScaleDrawer {
public:
    ScaleDrawer(Canvas& on, Box into, const ToleranceScale& scale)
        : on_{on}, into_{into}, scale_{scale}, span_{shown_span(scale)} {
        const double side = 2.0 * scale.text_mm;
        bar_ = {into.left + side, into.top + 0.42 * into.height, into.width - 2.0 * side,
                std::max(0.16 * into.height, 1.0)};
        small_ = {scale.text_mm, Weight::Regular, Ink::Faint, Anchor::Middle};
    }

    void draw() {
        on_.fill_box(bar_, 0.0, Ink::Tint);
        draw_allowed();
        on_.stroke_box(bar_, 0.0, {Ink::Text, 0.2});
        draw_limits();
        draw_target();
        draw_reading();
    }

private:
    [[nodiscard]] double x(double value) const {
        return std::clamp(placed(value, span_, bar_.left, bar_.right()), bar_.left, bar_.right());
    }
    [[nodiscard]] Box between(double from, double to) const {
        return {x(from), bar_.top, x(to) - x(from), bar_.height};
    }

    void draw_allowed() {
        if (!scale_.low && !scale_.high) return;
        const double low = scale_.low.value_or(span_.low);
        const double high = scale_.high.value_or(span_.high);
        on_.fill_box(between(low, high), 0.0, Ink::Paper);
        const drawing::Stroke lines{Ink::Text, 0.14};
        if (scale_.low && scale_.accept_low && *scale_.accept_low > low) {
            drawing::hatch(on_, between(low, std::min(*scale_.accept_low, high)), 0.8, lines);
        }
        if (scale_.high && scale_.accept_high && *scale_.accept_high < high) {
            drawing::hatch(on_, between(std::max(*scale_.accept_high, low), high), 0.8, lines);
        }
        const double y = bar_.bottom() - 0.3;
        on_.line({x(low), y}, {x(high), y}, {Ink::Good, 0.6});
    }

    void draw_limits() {
        std::vector<Label> labels;
        for (const auto& limit : {scale_.low, scale_.high}) {
            if (!limit) continue;
            on_.line({x(*limit), bar_.top - 0.8}, {x(*limit), bar_.bottom() + 0.8},
                     {Ink::Text, 0.4});
            const std::string words = tick_text(*limit, spacing_for(*limit));
            // Both limits of a value that must be met exactly, such as 0 V: one label for both.
            if (labels.empty() || labels.back().words != words) labels.push_back({words, x(*limit)});
        }
        if (labels.empty()) return;
        labels.back().words += " " + scale_.unit;
        place(labels);
        const double y = bar_.bottom() + 1.25 * scale_.text_mm;
        for (const Label& label : labels) on_.text({label.middle, y}, label.words, small_);
    }

    struct Label {
        std::string words;
        double middle;
    };

    /// Pushes two labels apart where they would touch, and keeps all within the box.
    void place(std::vector<Label>& labels) const {
        const auto half = [&](const Label& label) {
            return on_.text_width(label.words, small_) / 2.0;
        };
        if (labels.size() == 2) {
            const double apart = half(labels[0]) + half(labels[1]) + 0.7 * scale_.text_mm;
            const double lacking = apart - (labels[1].middle - labels[0].middle);
            if (lacking > 0.0) {
                labels[0].middle -= lacking / 2.0;
                labels[1].middle += lacking / 2.0;
            }
        }
        for (Label& label : labels) {
            const double least = into_.left + half(label);
            label.middle =
                std::clamp(label.middle, least, std::max(least, into_.right() - half(label)));
        }
    }

    /// A limit is shown with the decimals it was given, at most six.
    static double spacing_for(double value) {
        for (const double spacing : {1.0, 0.1, 0.01, 0.001, 0.0001}) {
            const double steps = value / spacing;
            if (std::abs(steps - std::round(steps)) < 1e-6) return spacing;
        }
        return 0.001;
    }

    void draw_target() {
        if (!scale_.target) return;
        const double at = x(*scale_.target);
        const std::array<Point, 3> flag{Point{at, bar_.bottom()},
                                        Point{at - 0.8, bar_.bottom() + 1.3},
                                        Point{at + 0.8, bar_.bottom() + 1.3}};
        on_.fill(flag, Ink::Text);
    }

    void draw_reading() {
        if (!scale_.reading) return;
        const double at = x(*scale_.reading);
        // In a low place the mark is smaller: cut off at the top it would be another shape.
        const double mark = std::min(std::max(1.5 * scale_.text_mm, 2.4), (bar_.top - into_.top) / 1.25);
        const double y = bar_.top - 0.75 * mark;
        on_.line({at, y}, {at, bar_.bottom()}, {ink_of(scale_.outcome), 0.5});
        draw_outcome_mark(on_, scale_.outcome, {at, y}, mark);
        if (*scale_.reading < span_.low) {
            drawing::arrow(on_, {at - 0.6 * mark, y}, {at - 1.3 * mark, y}, 1.2, {Ink::Text, 0.3});
        } else if (*scale_.reading > span_.high) {
            drawing::arrow(on_, {at + 0.6 * mark, y}, {at + 1.3 * mark, y}, 1.2, {Ink::Text, 0.3});
        }
    }

    Canvas& on_;
    Box into_;
    const ToleranceScale& scale_;
    Span span_;
    Box bar_;
    TextStyle small_;
};

}  // namespace

void draw_tolerance_scale(Canvas& on, Box into, const ToleranceScale& scale) {
    ScaleDrawer{on, into, scale}.draw();
}

}  // namespace wm::figures
