#include <fmt/format.h>

#include <utility>

#include "handover/report_pages.hpp"

namespace wm::handover {

namespace {

void pour_nonconformities(Flow& flow, const ReportInput& input) {
    if (input.nonconformities.empty()) {
        flow.paragraph("No check failed.");
        return;
    }
    flow.paragraph(
        "Every check that did not conform at some time is listed, also when it was put "
        "right within minutes. Nothing is ever taken off this list.");
    const double rest = flow.content().width - 46.0 - 46.0;
    Table table{{{"Check", 46.0},
                 {"Found", 46.0},
                 {"What was done", rest * 0.5},
                 {"Proved by", rest * 0.5}},
                {}};
    for (const Nonconformity& item : input.nonconformities) {
        Row row;
        row.cells.push_back(
            {{bold(item.title), faint(joined({item.check_id, severity_in_words(item.severity)}))},
             {},
             {}});
        row.cells.push_back({{plain(item.failing), faint(item.why)}, {}, {}});
        row.cells.push_back({{item.done.empty() ? bold("still open") : plain(item.done)}, {}, {}});
        row.cells.push_back({{plain(item.proving)}, {}, {}});
        table.rows.push_back(std::move(row));
    }
    flow.table(table);
}

void pour_deferrals(Flow& flow, const ReportInput& input) {
    if (input.deferrals.empty()) return;
    flow.subheading("Deferred to a later day");
    Table table{{{"Check", 58.0},
                 {"Due", 24.0},
                 {"Who does it", 40.0},
                 {"Why not today", flow.content().width - 122.0}},
                {}};
    for (const ReportDeferral& item : input.deferrals) {
        table.rows.push_back({{{{bold(item.title), faint(item.check_id)}, {}, {}},
                               {{bold(item.until)}, {}, {}},
                               {{plain(item.owner)}, {}, {}},
                               {{plain(item.why)}, {}, {}}},
                              {},
                              0.0});
    }
    flow.table(table);
}

void pour_concessions(Flow& flow, const ReportInput& input) {
    if (input.concessions.empty()) return;
    flow.subheading("Accepted although it does not conform");
    flow.paragraph(
        "A concession is written leave by a named person. It is never given where "
        "someone could be hurt.");
    Table table{{{"Check", 58.0}, {"Granted by", 46.0}, {"Why", flow.content().width - 104.0}}, {}};
    for (const ReportConcession& item : input.concessions) {
        table.rows.push_back({{{{bold(item.title), faint(item.check_id)}, {}, {}},
                               {{plain(item.by)}, {}, {}},
                               {{plain(item.why)}, {}, {}}},
                              {},
                              0.0});
    }
    flow.table(table);
}

}  // namespace

void pour_found(Flow& flow, const ReportInput& input) {
    // In a supplement it goes on where the list of what was read ended.
    if (input.supplement) flow.begin_part(40.0);
    else flow.start_page();
    flow.heading("What was found and put right");
    pour_nonconformities(flow, input);
    if (!input.page_one.restrictions.empty()) {
        flow.subheading("Restrictions of this handover");
        for (const std::string& words : input.page_one.restrictions) flow.paragraph("– " + words);
    }
    pour_deferrals(flow, input);
    pour_concessions(flow, input);
}

void pour_facts(Flow& flow, const ReportInput& input) {
    if (input.facts.empty()) return;
    flow.heading("The house and the job");
    // Two facts to a row: most are a few letters, and four pages of them hide the two that matter.
    const double half = flow.content().width / 2.0;
    Table table{{{"Fact", half - 30.0}, {"As recorded", 30.0}, {"Fact", half - 30.0}, {"As recorded", 30.0}},
                {}};
    Table wide{{{"Fact", half - 30.0}, {"As recorded", half + 30.0}}, {}};
    constexpr std::size_t short_letters = 34;
    std::vector<Cell> cells;
    for (const LabelledLine& fact : input.facts) {
        if (fact.text.size() > short_letters) {
            wide.rows.push_back({{{{plain(fact.label)}, {}, {}}, {{plain(fact.text)}, {}, {}}}, {}, 0.0});
            continue;
        }
        cells.push_back({{faint(fact.label)}, {}, {}});
        cells.push_back({{plain(fact.text)}, {}, {}});
        if (cells.size() == 4) table.rows.push_back({std::exchange(cells, {}), {}, 0.0});
    }
    if (!cells.empty()) table.rows.push_back({std::move(cells), {}, 0.0});
    flow.table(table);
    flow.table(wide);
}

}  // namespace wm::handover
