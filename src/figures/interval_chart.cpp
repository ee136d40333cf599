#include "figures/interval_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "figures/axis.hpp"

namespace wm::figures {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::Point;
using drawing::TextStyle;
using drawing::Weight;

namespace {

constexpr double row_ems = 2.0;
constexpr double axis_ems = 2.4;

class Rows {
public:
    Rows(Canvas& on, Box into, const IntervalChart& chart)
        : on_{on}, into_{into}, chart_{chart}, em_{chart.text_mm} {
        double top = 0.1;
        for (const IntervalRow& row : chart.rows) {
            if (row.tries > 0) top = std::max(top, row.high);
        }
        span_ = {0.0, std::min(1.0, top * 1.02)};
        left_ = into.left + 0.34 * into.width;
        right_ = into.right() - 2.2 * em_;
    }

    void draw() {
        draw_scale();
        double y = into_.top + 0.5 * row_ems * em_;
        for (const IntervalRow& row : chart_.rows) {
            draw_row(row, y);
            y += row_ems * em_;
        }
    }

private:
    [[nodiscard]] double x(double share) const { return placed(share, span_, left_, right_); }
    [[nodiscard]] double rows_bottom() const {
        return into_.top + row_ems * em_ * static_cast<double>(chart_.rows.size());
    }

    void draw_scale() {
        const TextStyle style{em_, Weight::Regular, Ink::Faint, Anchor::Middle};
        const auto ticks = round_ticks({0.0, span_.high * 100.0}, 6);
        const double spacing = ticks.size() > 1 ? ticks[1] - ticks[0] : 1.0;
        for (const double tick : ticks) {
            const double at = x(tick / 100.0);
            on_.line({at, into_.top}, {at, rows_bottom()}, {Ink::Hairline, 0.12});
            on_.text({at, rows_bottom() + 1.4 * em_}, tick_text(tick, spacing) + " %", style);
        }
        if (!chart_.all) return;
        drawing::dashed_line(on_, {x(*chart_.all), into_.top}, {x(*chart_.all), rows_bottom()},
                             {Ink::Accent, 0.35});
    }

    void draw_row(const IntervalRow& row, double y) {
        const double base = y + 0.35 * em_;
        const std::string counts = fmt::format("{} of {}", row.count, row.tries);
        const TextStyle faint{em_, Weight::Regular, Ink::Faint, Anchor::End};
        const double counts_width = on_.text_width(counts, faint);
        on_.text({left_ - 0.8 * em_, base}, counts, faint);
        if (row.marked) {
            const std::array<Point, 3> flag{Point{into_.left, y - 0.45 * em_},
                                            Point{into_.left + 0.8 * em_, y},
                                            Point{into_.left, y + 0.45 * em_}};
            on_.fill(flag, Ink::Bad);
        }
        const TextStyle name{em_, row.marked ? Weight::Bold : Weight::Regular, Ink::Text,
                             Anchor::Start};
        const double from = into_.left + 1.2 * em_;
        on_.text({from, base},
                 drawing::fitted(on_, row.name, name, left_ - 1.6 * em_ - counts_width - from),
                 name);
        if (row.tries > 0) draw_interval(row, y);
    }

    void draw_interval(const IntervalRow& row, double y) {
        const drawing::Stroke bar{Ink::Text, 0.4};
        on_.line({x(row.low), y}, {x(row.high), y}, bar);
        for (const double end : {row.low, row.high}) {
            on_.line({x(end), y - 0.35 * em_}, {x(end), y + 0.35 * em_}, bar);
        }
        on_.fill_circle({x(row.share), y}, 0.4 * em_, row.marked ? Ink::Bad : Ink::Text);
    }

    Canvas& on_;
    Box into_;
    const IntervalChart& chart_;
    double em_;
    Span span_;
    double left_ = 0.0;
    double right_ = 0.0;
};

}  // namespace

double interval_chart_height(const IntervalChart& chart) {
    return chart.text_mm * (row_ems * static_cast<double>(chart.rows.size()) + axis_ems);
}

void draw_interval_chart(Canvas& on, Box into, const IntervalChart& chart) {
    Rows{on, into, chart}.draw();
}

}  // namespace wm::figures
