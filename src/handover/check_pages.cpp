#include <fmt/format.h>

#include "figures/outcome_mark.hpp"
#include "handover/report_pages.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Weight;
using measure::Outcome;

namespace {

constexpr double chart_mm = 40.0;

/// Readings that share everything but place and time are printed in one run.
bool belong_together(const ReportReading& a, const ReportReading& b) {
    return a.instrument == b.instrument && a.by == b.by && a.note == b.note &&
           a.outcome == b.outcome && !a.place.empty() && !b.place.empty();
}

std::string placed_text(const ReportReading& reading) {
    return reading.place.empty() ? reading.text : reading.place + ": " + reading.text;
}

std::string time_of(const ReportReading& first, const ReportReading& last) {
    if (first.at == last.at || last.at.empty()) return first.at;
    return first.at + " to " + last.at;
}

void add_readings(Cell& cell, const std::vector<ReportReading>& readings) {
    for (std::size_t i = 0; i < readings.size();) {
        std::size_t end = i + 1;
        std::string words = placed_text(readings[i]);
        while (end < readings.size() && belong_together(readings[i], readings[end])) {
            words += "; " + placed_text(readings[end]);
            ++end;
        }
        const ReportReading& first = readings[i];
        const bool failed =
            first.outcome == Outcome::DoesNotConform || first.outcome == Outcome::Inconclusive;
        if (failed) words += fmt::format(" ({})", measure::in_words(first.outcome));
        cell.lines.push_back(failed ? bold(std::move(words)) : plain(std::move(words)));
        cell.lines.push_back(faint(
            joined({first.instrument, time_of(first, readings[end - 1]), first.by, first.note})));
        i = end;
    }
}

Cell check_cell(const ReportCheck& check) {
    Cell cell;
    cell.lines.push_back(bold(check.title));
    cell.lines.push_back(faint(check.question));
    cell.lines.push_back(faint(
        joined({check.id, check.hold ? "hold point" : "", severity_in_words(check.severity)})));
    return cell;
}

Cell allowed_cell(const ReportCheck& check) {
    Cell cell;
    if (!check.tolerance.empty()) cell.lines.push_back(plain(check.tolerance));
    if (check.rule == "guarded" || check.rule == "simple") {
        cell.lines.push_back(faint("rule: " + check.rule + " acceptance"));
    }
    for (const std::string& line : check.derivation) cell.lines.push_back(faint(line));
    if (!check.sources.empty()) {
        cell.lines.push_back(faint("source: " + joined(check.sources)));
    }
    cell.scale = check.scale;
    if (cell.scale) cell.scale->text_mm = letters::small * 0.9;
    return cell;
}

Cell outcome_cell(const ReportCheck& check) {
    Cell cell;
    CellLine word{std::string{measure::in_words(check.outcome)},
                  {letters::table, Weight::Bold, figures::ink_of(check.outcome), Anchor::Start}};
    cell.lines.push_back(std::move(word));
    if (check.corrected) cell.lines.push_back(faint("after correction"));
    return cell;
}

Row row_of(int number, const ReportCheck& check) {
    Row row;
    row.cells.push_back({{plain(std::to_string(number))}, {}, {}});
    row.cells.push_back({{}, check.outcome, {}});
    row.cells.push_back(check_cell(check));
    Cell readings;
    add_readings(readings, check.readings);
    // The reason stands under the reading it is about, where it has room.
    readings.lines.push_back(check.readings.empty() ? plain(check.why) : faint(check.why));
    if (!check.doubt.empty()) readings.lines.push_back(faint(check.doubt));
    row.cells.push_back(std::move(readings));
    row.cells.push_back(allowed_cell(check));
    row.cells.push_back(outcome_cell(check));
    if (check.series) {
        row.below_mm = chart_mm;
        row.below = [&chart = *check.series](drawing::Canvas& on, drawing::Box box) {
            const drawing::Box inner{box.left + 15.0, box.top, box.width - 30.0, box.height - 1.0};
            figures::draw_series_chart(on, inner, chart);
        };
    }
    return row;
}

}  // namespace

void pour_checks(Flow& flow, const ReportInput& input) {
    flow.start_page();
    flow.heading("Every check with its reading");
    flow.paragraph(
        "Guarded acceptance: the reading keeps the instrument's uncertainty as distance "
        "from each limit (hatched strips); in the strip it is inconclusive. Simple "
        "acceptance: the reading lies within the limits, taken with an instrument fine "
        "enough to say so. Doubt left: the chance that a reading accepted lies outside "
        "after all. Equation and source of each figure: see \"Where the figures come "
        "from\", near the end. Behind each time stands by how much it is ahead of UTC, the "
        "world's common time (+), or behind it (-).");
    int number = 0;
    const double rest = flow.content().width - 8.0 - 6.0 - 25.0;
    for (const ReportStage& stage : input.stages) {
        if (stage.checks.empty()) continue;
        flow.subheading(stage.title);
        Table table{{{"No.", 8.0},
                     {"", 6.0},
                     {"Check", rest * 0.30},
                     {"Reading", rest * 0.34},
                     {"Allowed", rest * 0.36},
                     {"Outcome", 25.0}},
                    {}};
        for (const ReportCheck& check : stage.checks) table.rows.push_back(row_of(++number, check));
        flow.table(table);
    }
}

}  // namespace wm::handover
