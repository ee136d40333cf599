// What a supplement adds to which report.
#include <fmt/format.h>

#include "handover/report_pages.hpp"

namespace wm::handover {

void pour_supplement(Flow& flow, const ReportInput& input) {
    if (!input.supplement) return;
    const ReportSupplement& supplement = *input.supplement;
    flow.start_page();
    flow.heading("What this supplement adds");
    flow.paragraph(fmt::format(
        "It belongs to the handover report of job {} of {}, which stays as it is: plant, facts, every check of that day "
        "and the signatures are there. Keep both.",
        input.job, supplement.first_date));
    flow.subheading("Read since then");
    for (const std::string& line : supplement.done) flow.paragraph("– " + line);
    if (!supplement.left.empty()) {
        flow.subheading("Still to be done");
        for (const std::string& line : supplement.left) flow.paragraph("– " + line);
    }
    flow.subheading("The report it follows");
    const drawing::TextStyle mono{letters::small, drawing::Weight::Mono, drawing::Ink::Text, drawing::Anchor::Start};
    Table first{{{"Of its file", 44.0}, {"SHA-256", flow.content().width - 44.0}}, {}};
    first.rows.push_back({{{{plain("Check sum of the file")}, {}, {}}, {{{supplement.first_sha256, mono}}, {}, {}}}, {}, 0.0});
    first.rows.push_back({{{{plain("Head of the record in it")}, {}, {}}, {{{supplement.first_head, mono}}, {}, {}}}, {}, 0.0});
    flow.table(first);
}

}  // namespace wm::handover
