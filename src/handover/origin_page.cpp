// From each figure of the evidence to its equation and its source.
#include "handover/report_pages.hpp"

namespace wm::handover {

void pour_origins(Flow& flow, const ReportInput& input) {
    if (input.origins.empty()) return;
    flow.begin_part(45.0);
    flow.heading("Where the figures come from");
    flow.paragraph(
        "Each figure that was worked out for this house stands beside its check with the numbers put in. Here is its "
        "equation and where it was taken from. The command in the last line explains symbols, units and range, and "
        "works it out again.");
    const double rest = flow.content().width - 48.0;
    Table table{{{"Figure", 48.0}, {"Equation", rest * 0.5}, {"Source", rest * 0.5}}, {}};
    for (const FigureOrigin& origin : input.origins) {
        Row row;
        Cell source{{plain(origin.source)}, {}, {}};
        if (!origin.work_out.empty()) source.lines.push_back(faint("witnessmark work-out " + origin.work_out + " --help"));
        row.cells = {{{bold(origin.figure)}, {}, {}}, {{plain(origin.equation)}, {}, {}}, source};
        table.rows.push_back(std::move(row));
    }
    flow.table(table);
}

}  // namespace wm::handover
