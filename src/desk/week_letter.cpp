// The letter of the week as a PDF: what a lead reads on Monday morning, on paper.
#include <fmt/format.h>

#include <algorithm>

#include "desk/reissue.hpp"
#include "desk/week.hpp"
#include "desk/week_charts.hpp"
#include "desk/week_to_do.hpp"
#include "drawing/text_block.hpp"
#include "handover/pdf_book.hpp"
#include "handover/pdf_shape.hpp"
#include "handover/seal.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

constexpr double left = 18.0;
constexpr double right = 192.0;
constexpr double bottom = 280.0;

/// Lines one under the other, with a new page when one is full.
class Letter {
public:
    Letter(handover::PdfBook& book, std::string head) : book_{book}, head_{std::move(head)} { turn(); }

    void heading(const std::string& words) {
        if (y_ + 16.0 > bottom) turn();
        y_ += 5.0;
        page_->text({left, y_}, words, {.size_mm = 4.6, .weight = drawing::Weight::Bold, .ink = drawing::Ink::Text,
                                        .anchor = drawing::Anchor::Start});
        y_ += 2.2;
        page_->line({left, y_}, {right, y_}, {.ink = drawing::Ink::Hairline, .width_mm = 0.25});
        y_ += 5.2;
    }

    void paragraph(const std::string& words, double indent = 0.0) {
        const drawing::TextStyle style{.size_mm = 3.2, .weight = drawing::Weight::Regular, .ink = drawing::Ink::Text,
                                       .anchor = drawing::Anchor::Start};
        for (const auto& line : drawing::wrapped(*page_, words, style, right - left - indent)) {
            if (y_ > bottom) turn();
            page_->text({left + indent, y_}, line, style);
            y_ += drawing::leading_mm(style);
        }
        y_ += 0.8;
    }

    /// A share as a bar of its interval on a scale of 0 to 100 %, with the figures before it.
    void share(const ShareView& row) {
        if (y_ > bottom) turn();
        const drawing::TextStyle style{.size_mm = 3.0, .weight = drawing::Weight::Regular, .ink = drawing::Ink::Text,
                                       .anchor = drawing::Anchor::Start};
        page_->text({left, y_}, drawing::fitted(*page_, row.words, style, 78.0), style);
        auto figures = style;
        figures.anchor = drawing::Anchor::End;
        page_->text({left + 102.0, y_}, fmt::format("{} of {}", row.failed, row.tries), figures);
        const double from = left + 106.0;
        const double width = right - from;
        page_->line({from, y_ - 1.0}, {right, y_ - 1.0}, {.ink = drawing::Ink::Hairline, .width_mm = 0.2});
        page_->line({from + row.low * width, y_ - 1.0}, {from + row.high * width, y_ - 1.0},
                    {.ink = drawing::Ink::Faint, .width_mm = 0.9});
        page_->fill_circle({from + row.share * width, y_ - 1.0}, 0.9, drawing::Ink::Text);
        y_ += 4.6;
    }

    /// A chart over the whole width, drawn by the same figures as in the window.
    template <class Draw>
    void chart(double height_mm, Draw&& draw) {
        if (y_ + height_mm > bottom) turn();
        draw(*page_, drawing::Box{left, y_, right - left, height_mm});
        y_ += height_mm + 4.0;
    }

private:
    void turn() {
        page_ = &book_.add_page(handover::PaperSize::A4);
        y_ = 20.0;
        page_->text({left, 12.0}, head_, {.size_mm = 2.8, .weight = drawing::Weight::Regular, .ink = drawing::Ink::Faint,
                                          .anchor = drawing::Anchor::Start});
        page_->text({right, 12.0}, fmt::format("page {}", book_.pages()),
                    {.size_mm = 2.8, .weight = drawing::Weight::Regular, .ink = drawing::Ink::Faint,
                     .anchor = drawing::Anchor::End});
    }

    handover::PdfBook& book_;
    std::string head_;
    drawing::Canvas* page_ = nullptr;
    double y_ = 0.0;
};

void write_letter(Letter& letter, const WeekView& week) {
    if (!week.damaged.empty()) letter.heading("Not counted: entries that cannot be read");
    for (const auto& sentence : week.damaged) letter.paragraph(sentence);
    if (const auto to_do = to_do_of(week); !to_do.empty()) {
        letter.heading("This week");
        for (const auto& line : to_do) letter.paragraph(line.words);
    }
    letter.heading("Can hurt someone");
    for (const auto& row : week.severe)
        letter.paragraph(fmt::format("{}: {}: {}{}.", job_and_place(week, row.job), row.title, row.outcome,
                                     row.corrected ? ", put right on the day" : ", NOT put right yet"));
    if (week.severe.empty()) letter.paragraph("Nothing of severity H failed this week.");
    letter.heading("Stands out");
    for (const auto& row : week.findings) {
        letter.paragraph(row.sentence + " " + row.what_to_do);
        if (const auto shares = finding_chart(row); !shares.rows.empty())
            letter.chart(figures::interval_chart_height(shares), [&](drawing::Canvas& on, drawing::Box into) { figures::draw_interval_chart(on, into, shares); });
        const auto* gauge = row.kind == "instrument drift" ? gauge_named(week, row.subject) : nullptr;
        if (gauge == nullptr || gauge->points.size() < 2) continue;
        letter.chart(34.0, [&](drawing::Canvas& on, drawing::Box into) { figures::draw_control_chart(on, into, drift_of(*gauge)); });
        letter.paragraph("Each reading beside the other gauges of its street. Ringed: the sum of the differences is beyond chance.");
    }
    if (week.findings.empty()) letter.paragraph("Nothing that chance would not do.");
    if (!week.questions.empty()) letter.heading("To ask: an answer comes before any conclusion");
    for (const auto& row : week.questions) letter.paragraph(row.sentence + " " + row.what_to_do);
    if (!week.actions.empty()) letter.heading("Causes being removed, oldest first");
    for (const auto& row : week.actions) {
        letter.paragraph(fmt::format("{} days: {}{}{}: {}. {} Owner: {}, due {}.", row.age_days, row.title.empty() ? row.finding : row.title,
                                     row.subject.empty() ? "" : " of ", row.subject, row.state, row.remedy, row.owner, row.due));
        for (const auto& effect : row.effects)
            if (effect.is_due || effect.recorded)
                letter.paragraph(fmt::format("After {} days: {}. {}", effect.after_days, effect.verdict, effect.sentence), 6.0);
    }
    if (!week.complaints.empty()) letter.heading("Customers called");
    for (const auto& row : week.complaints) {
        std::string text = fmt::format("{}: {}{}, told on {}{}.", job_and_place(week, row.job), row.symptom_words, row.air.empty() ? "" : " at " + row.air,
                                       row.told_on, row.is_open ? fmt::format(", open for {} days", row.age_days) : ", closed");
        if (!row.survey.empty()) text += fmt::format(" Surveyed in {}.", row.survey);
        for (const auto& gap : row.unproved) text += fmt::format(" Could have caught it: {}, {}.", gap.title, gap.what);
        letter.paragraph(text);
    }
    letter.heading("Waits for somebody");
    std::size_t shown = 0;
    for (const auto& row : week.open) {
        if (++shown > 12) break;
        letter.paragraph(fmt::format("{} days: {}, {}, {}{}{}.", row.age_days, job_and_place(week, row.job), row.title, row.what,
                                     row.owner.empty() ? "" : ", ", row.owner));
    }
    if (week.open.size() > 12) letter.paragraph(fmt::format("and {} more.", week.open.size() - 12));
    if (week.open.empty()) letter.paragraph("Nothing.");
    letter.heading("Look again at");
    for (const auto& row : week.samples)
        letter.paragraph(fmt::format("{}: {}{}{}.", job_and_place(week, row.job), row.why, row.narrows.empty() ? "" : "; ", row.narrows));
    if (week.trend.size() > 1) {
        letter.heading("Week by week: share of failures at the first try");
        letter.chart(42.0, [&](drawing::Canvas& on, drawing::Box into) { figures::draw_control_chart(on, into, trend_of(week)); });
        letter.paragraph("Shaded: what chance alone does. A square with a ring lies outside.");
    }
    if (!week.failed.empty()) {
        letter.heading("What fails most this week");
        const auto chart = pareto_of(week);
        letter.chart(figures::pareto_height(chart), [&](drawing::Canvas& on, drawing::Box into) { figures::draw_pareto(on, into, chart); });
    }
    if (week.funnel) {
        letter.heading("Crews by how much they did");
        letter.chart(58.0, [&](drawing::Canvas& on, drawing::Box into) { figures::draw_funnel_chart(on, into, funnel_of(week)); });
        letter.paragraph("Between the lines chance explains the difference (inner 95 %, outer 99.8 %). Roofs and kinds are not told "
                         "apart here; the findings above compare like with like.");
    }
    letter.heading("Failed at the first try (dot: share; bar: 95 % interval, 0 to 100 %)");
    for (const auto& row : week.failed) letter.share(row);
    letter.heading("By crew");
    for (const auto& row : week.by_crew)
        if (row.check.empty()) letter.share(row);
    const bool any = std::any_of(week.by_batch.begin(), week.by_batch.end(), [](const ShareView& row) { return row.failed > 0; });
    if (any) letter.heading("By batch");
    for (const auto& row : week.by_batch)
        if (row.failed > 0) letter.share(row);
}

}  // namespace

Result<std::string> week_letter(Desk& desk, const WeekView& week) {
    const auto& setup = desk.setup();
    const std::string title = fmt::format("Week {}: {} jobs, {} results", week.week, week.jobs, week.results);
    handover::PdfBook book{{.title = title, .author = setup.company, .subject = "Week audit",
                            .written = printed_moment(setup.now())},
                           setup.fonts};
    Letter letter{book, setup.company + " · " + title};
    letter.heading(title);
    if (const auto part = in_words(week.filter, cards_of(desk.library())); !part.empty())
        letter.paragraph("Only " + part + ". The findings are compared with all jobs.");
    letter.paragraph("Shares are failures at the first try. Crews and batches are compared with the others only where the "
                     "jobs are alike in what can matter. Small numbers prove little: look at the bars.");
    write_letter(letter, week);
    auto drawn = book.finished();
    const auto& company = desk.journal().keys().company();
    // While the keys are sealed by a PIN that nobody gave, the letter can still be read.
    if (!drawn || !company) return drawn;
    auto with_place = handover::with_empty_seal(*drawn, {"week " + week.week, desk.journal().head().hash, setup.company, printed_moment(setup.now())});
    if (!with_place) return with_place;
    std::string unstamped;
    return handover::seal_report(std::move(*with_place), [&](std::string_view covered) {
        return sealed_with_stamp(setup, *company, covered, unstamped);
    });
}

}  // namespace wm::desk
