#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "handover/report_pages.hpp"

namespace wm::handover {

namespace {

void add_once(Cell& cell, CellLine line) {
    for (const CellLine& known : cell.lines)
        if (known.words == line.words) return;
    cell.lines.push_back(std::move(line));
}

/// All failures of one check in one row; what was done for several of them stands there once.
Row row_of(const std::vector<const Nonconformity*>& failures) {
    const Nonconformity& first = *failures.front();
    Cell check{{bold(first.title), faint(joined({first.check_id, severity_in_words(first.severity)}))}, {}, {}};
    Cell found;
    Cell done;
    Cell proved;
    for (const Nonconformity* item : failures) {
        found.lines.push_back(plain(item->failing));
        found.lines.push_back(faint(item->why));
        add_once(done, item->done.empty() ? bold("still open") : plain(item->done));
        if (!item->proving.empty()) add_once(proved, plain(item->proving));
    }
    return {{std::move(check), std::move(found), std::move(done), std::move(proved)}, {}, 0.0};
}

void pour_failures(Flow& flow, const std::vector<std::vector<const Nonconformity*>>& checks) {
    const double rest = flow.content().width - 46.0 - 46.0;
    Table table{{{"Check", 46.0},
                 {"Found", 46.0},
                 {"What was done", rest * 0.5},
                 {"Proved by", rest * 0.5}},
                {}};
    for (const auto& failures : checks) table.rows.push_back(row_of(failures));
    flow.table(table);
}

void pour_nonconformities(Flow& flow, const ReportInput& input) {
    if (input.nonconformities.empty()) {
        flow.paragraph("No check failed.");
        return;
    }
    std::vector<std::vector<const Nonconformity*>> checks;
    std::vector<std::vector<const Nonconformity*>> slips;
    for (const Nonconformity& item : input.nonconformities) {
        auto& list = item.withdrawn ? slips : checks;
        const auto same = std::find_if(list.begin(), list.end(), [&](const auto& failures) {
            return failures.front()->check_id == item.check_id;
        });
        if (same == list.end()) list.push_back({&item});
        else same->push_back(&item);
    }
    flow.paragraph(
        "Every check that did not conform at some time is listed, also when it was put "
        "right within minutes. Nothing is ever taken off this list.");
    if (checks.empty()) flow.paragraph("Nothing was found wrong: all readings that failed were slips.");
    pour_failures(flow, checks);
    if (slips.empty()) return;
    flow.subheading("Taken back as slips");
    flow.paragraph("A wrong key was touched, and the crew took the reading back. It stays on record.");
    pour_failures(flow, slips);
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
