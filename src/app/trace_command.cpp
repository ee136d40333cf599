// `trace`: what hangs on an instrument or on a batch of parts.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "app/keep_looked.hpp"
#include "desk/permission.hpp"
#include "desk/trace.hpp"

namespace wm::app {

namespace {

Json in_json(const desk::TraceView& view, int set_aside) {
    const auto if_any = [](const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); };
    Json rows = Json::array();
    for (const auto& row : view.rows)
        rows.push_back({{"job", row.job}, {"check", row.check}, {"place", row.where}, {"value", row.text}, {"day", row.day},
                        {"outcome", row.outcome}, {"hold", row.hold}, {"severity", row.severity}});
    Json jobs = Json::array();
    for (const auto& job : view.jobs)
        jobs.push_back({{"job", job.job}, {"place", job.place}, {"customer", job.customer}, {"state", job.state},
                        {"results", job.results}, {"severe", job.severe}, {"letter", if_any(job.letter)}, {"revisit", if_any(job.revisit)}});
    return {{"kind", view.kind}, {"subject", view.subject}, {"from", if_any(view.from)}, {"until", if_any(view.until)},
            {"results", view.results}, {"sentence", view.sentence}, {"doubted", view.doubted}, {"set_aside", set_aside},
            {"rows", rows}, {"jobs", jobs}};
}

std::string in_text(const desk::TraceView& view) {
    std::string text = view.sentence + "\n";
    for (const auto& job : view.jobs) {
        text += fmt::format("{} {}, {}: {} checks, {} of them can hurt someone{}\n", job.job, job.place, job.state, job.results, job.severe,
                            job.revisit.empty() ? "" : ", visit " + job.revisit);
        for (const auto& row : view.rows)
            if (row.job == job.job)
                text += fmt::format("  {} {}{}{}: {}\n", row.day, row.title, row.where.empty() ? "" : " ", row.where,
                                    row.text.empty() ? row.outcome : fmt::format("{} ({})", row.text, row.outcome));
    }
    return text;
}

// What a person decides after looking: the doubt on record, a visit for each house.
Result<int> decided(const Arguments& arguments, desk::Desk& desk) {
    int set_aside = 0;
    if (arguments.has("record")) {
        if (arguments.has("batch")) {
            const auto done = desk.carry_out(desk::DoubtBatch{arguments.value("batch"), arguments.value("why"), arguments.value("by")});
            if (!done) return tl::unexpected(done.error());
        } else {
            const auto done = desk.carry_out(desk::DoubtInstrument{arguments.value("instrument"), arguments.value("from"), arguments.value("until"),
                                                                   arguments.value("as-found"), arguments.value("why"), arguments.value("by")});
            if (!done) return tl::unexpected(done.error());
            set_aside = *done;
        }
    }
    return set_aside;
}

}  // namespace

Output run_trace(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const bool writes = arguments.has("record") || arguments.has("visits");
    auto desk = open_desk(world, writes ? desk::Access::Write : desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const desk::TraceAsked asked{arguments.value("instrument"), arguments.value("from"), arguments.value("until"), arguments.value("batch")};
    auto view = desk::trace_view(*desk, asked);
    if (!view) return told_as(view.error(), form);
    if (!writes) keep_columns_of(world, *desk);
    const auto set_aside = decided(arguments, *desk);
    if (!set_aside) return told_as(set_aside.error(), form);
    if (arguments.has("visits")) {
        if (auto fine = desk::may(desk->setup(), store::Role::Lead, "plan visits to all houses of a trace"); !fine) return told_as(fine.error(), form);
        for (const auto& job : view->jobs) {
            const auto visit = desk->carry_out(desk::OpenRevisit{job.job, view->sentence});
            if (!visit) return told_as(visit.error(), form);
        }
    }
    if (writes) view = desk::trace_view(*desk, asked);
    if (!view) return told_as(view.error(), form);
    Output output;
    if (arguments.has("letters")) {
        const std::filesystem::path folder = arguments.value("letters");
        int written = 0;
        for (const auto& job : view->jobs) {
            if (job.letter.empty()) continue;
            if (const auto done = write_file(folder / (job.job + ".txt"), job.letter); !done) return told_as(done.error(), form);
            ++written;
        }
        output.talk = fmt::format("{} letters drafted in {}. Read each before it is sent.\n", written, folder.string());
    }
    output.data = form == Form::Json ? document(in_json(*view, *set_aside)) : in_text(*view);
    return output;
}

}  // namespace wm::app
