// The parts of the report, each poured into the flow. Used by report.cpp only.
#pragma once

#include <string>
#include <vector>

#include "drawing/canvas.hpp"
#include "handover/flow.hpp"
#include "handover/report_input.hpp"

namespace wm::handover {

/// Page one on its own canvas. `more_on_page` is where all corrections are listed. Letters shrink
/// a little until everything fits; nothing is left out but what page_one_words counts.
[[nodiscard]] Result<void> draw_page_one(drawing::Canvas& on, const ReportInput& input,
                                         int more_on_page);

/// All pages of the report into any book.
[[nodiscard]] Result<void> pour_report(Book& book, const ReportInput& input);

/// What a supplement adds to which report.
void pour_supplement(Flow& flow, const ReportInput& input);

/// The plant drawing, the key of marks and the numbered list of checks.
void pour_plant(Flow& flow, const ReportInput& input);

/// Nonconformities with their corrections, restrictions, deferrals, concessions.
void pour_found(Flow& flow, const ReportInput& input);

/// What the house may expect in a year, how to see it, and what was measured today.
void pour_expectation(Flow& flow, const ReportInput& input);

/// Facts of the house and of the job.
void pour_facts(Flow& flow, const ReportInput& input);

/// Every check by stage.
void pour_checks(Flow& flow, const ReportInput& input);

void pour_photos(Flow& flow, Book& book, const ReportInput& input);
void pour_instruments(Flow& flow, const ReportInput& input);
void pour_signatures(Flow& flow, const ReportInput& input);
void pour_record(Flow& flow, const ReportInput& input);

/// From each figure of the evidence to its equation and its source.
void pour_origins(Flow& flow, const ReportInput& input);

void pour_glossary(Flow& flow, const ReportInput& input);
void pour_cautions(Flow& flow, const ReportInput& input);

/// The parts that are not empty, joined by " · ".
[[nodiscard]] std::string joined(const std::vector<std::string>& parts);

/// "could hurt someone", "could damage property", "costs performance", "paperwork" for H, D, P, R.
[[nodiscard]] std::string severity_in_words(const std::string& severity);

/// A line in the style of table text.
[[nodiscard]] CellLine plain(std::string words);
[[nodiscard]] CellLine bold(std::string words);
[[nodiscard]] CellLine faint(std::string words);

}  // namespace wm::handover
