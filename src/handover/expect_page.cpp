#include <algorithm>

#include "drawing/text_block.hpp"
#include "handover/report_pages.hpp"
#include "units/reading.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::TextStyle;
using drawing::Weight;
using language::Language;

namespace {

constexpr double chart_mm = 46.0;

double nice_top(double highest) {
    for (const double top : {10.0, 20.0, 50.0, 100.0, 200.0, 300.0, 400.0, 600.0, 800.0, 1000.0}) {
        if (highest <= top) return top;
    }
    return 500.0 * static_cast<double>(static_cast<int>(highest / 500.0) + 1);
}

/// Told apart by shape, so that a grey print says the same: the band is a filled box between its
/// ends, the need an empty one.
void draw_months(Canvas& on, Box box, const std::vector<ExpectedMonthBand>& months, const Language& say) {
    const TextStyle small{letters::small, Weight::Regular, Ink::Faint, Anchor::Middle};
    TextStyle scale = small;
    scale.anchor = Anchor::End;
    TextStyle key = small;
    key.anchor = Anchor::Start;
    double highest = 1.0;
    for (const auto& month : months) {
        highest = std::max({highest, month.high_kwh, month.needed_kwh});
    }
    const double top_kwh = nice_top(highest);
    const Box field{box.left + 11.0, box.top + 8.0, box.width - 11.0, box.height - 14.0};
    const auto y_of = [&](double kwh) { return field.bottom() - field.height * kwh / top_kwh; };
    for (int quarter = 0; quarter <= 4; ++quarter) {
        const double kwh = top_kwh * quarter / 4.0;
        on.line({field.left, y_of(kwh)}, {field.right(), y_of(kwh)}, {Ink::Hairline, 0.15});
        on.text({field.left - 1.5, y_of(kwh) + 0.8}, say.number(units::print_short(kwh, 4)), scale);
    }
    const double step = field.width / static_cast<double>(months.size());
    double x = field.left;
    for (const auto& month : months) {
        const double width = 0.56 * step;
        const double left = x + (step - width) / 2.0;
        on.stroke_box({left, y_of(month.needed_kwh), width, field.bottom() - y_of(month.needed_kwh)},
                      0.0, {Ink::Faint, 0.2});
        const double high = y_of(month.high_kwh);
        on.fill_box({left + 0.22 * width, high, 0.56 * width,
                     std::max(y_of(month.low_kwh) - high, 0.5)},
                    0.0, Ink::Accent);
        on.text({x + step / 2.0, field.bottom() + 4.0}, month.name, small);
        x += step;
    }
    const double line = box.top + 3.4;
    on.text({box.left, line}, say.text("kWh a month"), key);
    on.fill_box({box.left + 27.0, line - 2.1, 2.2, 2.4}, 0.0, Ink::Accent);
    on.text({box.left + 31.0, line}, say.text("heat from the sun, from low to high"), key);
    on.stroke_box({box.left + 84.0, line - 2.1, 3.4, 2.4}, 0.0, {Ink::Faint, 0.2});
    on.text({box.left + 89.0, line}, say.text("heat needed with much hot water"), key);
}

void pour_lines(Flow& flow, const std::string& left, const std::string& right,
                const std::vector<LabelledLine>& lines) {
    Table table{{{left, 52.0}, {right, flow.content().width - 52.0}}, {}};
    for (const LabelledLine& line : lines) {
        table.rows.push_back(
            {{{{bold(line.label)}, {}, {}}, {{plain(line.text)}, {}, {}}}, {}, 0.0});
    }
    flow.table(table);
}

}  // namespace

void pour_expectation(Flow& flow, const ReportInput& input) {
    const Expectation& expected = input.expectation;
    const Language& say = input.language;
    if (expected.months.empty() && expected.today.empty() && expected.left_out.empty()) return;
    flow.start_page();
    flow.heading(say.text("What you may expect"));
    flow.paragraph(say.text(
        "An estimate for this house and no promise: the weather and your use decide. It is a band, "
        "because nobody knows them beforehand."));
    flow.gap(1.5);
    if (!expected.year.empty()) pour_lines(flow, say.text("In a year"), say.text("Estimate"), expected.year);
    if (!expected.months.empty()) {
        flow.figure(chart_mm,
                    [&](Canvas& on, Box box) { draw_months(on, box, expected.months, say); },
                    say.text("Chart: for each month the heat from the sun, from low to high, beside the heat "
                             "that much hot water needs."));
        flow.gap(2.0);
    }
    for (const std::string& sentence : expected.left_out) {
        flow.paragraph(say.text("Left out.") + " " + sentence, {letters::table, Weight::Regular, Ink::Faint});
    }
    if (!expected.see_for_yourself.empty()) {
        flow.subheading(say.text("How you can see in a month whether it works"));
        for (const std::string& sentence : expected.see_for_yourself) {
            flow.paragraph("– " + sentence);
        }
    }
    if (!expected.today.empty()) {
        flow.subheading(say.text("What was measured today"));
        pour_lines(flow, say.text("Check"), say.text("Outcome"), expected.today);
    }
    if (!expected.assumptions.empty()) {
        flow.subheading(say.text("What the estimate assumes"));
        pour_lines(flow, say.text("Of"), say.text("Assumed"), expected.assumptions);
    }
}

}  // namespace wm::handover
