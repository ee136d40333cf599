#include "desk/trace.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "audit/likeness.hpp"
#include "audit/reverse_trace.hpp"
#include "desk/actions.hpp"
#include "desk/view_parts.hpp"
#include "desk/week.hpp"

namespace wm::desk {

namespace {

Problem not_used(std::string_view what, const std::string& name) {
    return {fmt::format("No job names this {}.", what), fmt::format("{} {}", what, name), "Check it letter by letter, as engraved or printed.",
            ProblemKind::Unreadable};
}

TraceRowView row_of(const record::JobState& job, const audit::CheckCards& cards, const std::string& check, const std::string& where) {
    TraceRowView row{.job = job.number, .place = place_of(job), .customer = fact_text(job, "customer.name"), .check = check,
                     .title = audit::title_of(cards, check), .where = where, .text = "", .day = "", .outcome = "", .hold = false,
                     .severity = ""};
    if (const auto card = cards.find(check); card != cards.end()) {
        row.hold = card->second.hold;
        row.severity = std::string{card->second.severity};
    }
    if (const auto* state = job.check(check)) {
        row.outcome = measure::in_words(state->outcome);
        if (const auto* reading = state->standing_at(where)) {
            row.text = record::shown(reading->taken.text);
            row.day = reading->taken.read_at.substr(0, 10);
        }
    }
    return row;
}

std::string letter_to(const TraceView& view, const std::vector<TraceRowView>& rows, const Setup& setup) {
    const auto& first = rows.front();
    if (first.customer.empty() || first.customer == "(erased)") return "";
    std::vector<std::string> titles;
    bool severe = false;
    for (const auto& row : rows) {
        if (std::find(titles.begin(), titles.end(), row.title) == titles.end()) titles.push_back(row.title);
        severe = severe || row.severity == "H";
    }
    std::string text = fmt::format("{}\n\nYour solar water heater, {} (job {})\n\n", first.customer, first.place, first.job);
    text += view.kind == "instrument"
                ? "A tool that we used at your house was later found to read wrongly. We can no longer say that these checks are right:\n"
                : "A part that we fitted at your house comes from a batch that we no longer trust. It stands behind these checks:\n";
    for (const auto& title : titles) text += "- " + title + "\n";
    text += "\nWe will look at them again. This costs you nothing. We will call you for a day.\n";
    if (severe)
        text += "Until then take care: the water may be hotter than usual, and let nobody open, shut or touch the valves.\n"
                "If water or steam comes out, or something smells or hums, shut the cold water and the power of the heater\n"
                "and call us and a licensed person at once.\n";
    text += fmt::format("\n{}{}{}\n", setup.company, setup.company_contact.empty() ? "" : ", ", setup.company_contact);
    return text;
}

}  // namespace

Result<TraceView> trace_view(Desk& desk, const TraceAsked& asked) {
    TraceView view;
    view.kind = asked.batch.empty() ? "instrument" : "batch";
    view.subject = asked.batch.empty() ? asked.instrument : asked.batch;
    if (view.subject.empty())
        return refused({"Neither an instrument nor a batch is named.", "trace", "Write --instrument ID --from DATE, or --batch B.", ProblemKind::WrongUse});
    for (const auto& day : {asked.from, asked.until})
        if (!day.empty() && !days_between(day, day))
            return refused({fmt::format("\"{}\" is no date.", day), "trace", "Write it as 2027-03-18.", ProblemKind::WrongUse});
    view.from = asked.from;
    view.until = asked.until;
    const auto counted = desk.audit_table();
    if (!counted) return tl::unexpected(counted.error());
    const auto& table = **counted;
    const auto cards = cards_of(desk.library());
    const audit::ReverseIndex index{table};
    std::map<std::size_t, std::vector<std::pair<std::string, std::string>>> checks;  // by job: check, place
    if (view.kind == "instrument") {
        const auto known = index.instruments();
        if (!std::binary_search(known.begin(), known.end(), asked.instrument)) return refused(not_used("instrument", asked.instrument));
        for (const auto use : index.uses_of({asked.instrument, asked.from, asked.until}))
            checks[table.uses[use].job].emplace_back(table.uses[use].check, table.uses[use].place);
    } else {
        const auto with = index.jobs_with(asked.batch);
        if (with.empty()) return refused(not_used("batch", asked.batch));
        std::map<std::size_t, std::vector<std::string_view>> materials;
        for (const auto& use : with) materials[use.job].push_back(use.material);
        for (const auto& [job, names] : materials) checks[job];
        for (const auto& result : table.results) {
            const auto found = materials.find(result.job);
            if (found == materials.end()) continue;
            const auto behind = audit::materials_behind(result.check);
            for (const auto& name : found->second)
                if (std::find(behind.begin(), behind.end(), name) != behind.end()) checks[result.job].emplace_back(result.check, "");
        }
    }
    const auto office = office_at(desk);
    if (!office) return tl::unexpected(office.error());
    for (const auto& [origin, doubt] : office->doubted_instruments) view.doubted = view.doubted || doubt.instrument == view.subject;
    for (const auto& [origin, doubt] : office->doubted_batches) view.doubted = view.doubted || doubt.batch == view.subject;
    const auto listed = desk.job_rows();
    if (!listed) return tl::unexpected(listed.error());
    std::map<std::string_view, std::string_view> later;
    for (const auto& row : *listed)
        if (!row.after.empty() && row.kind == "service") later[row.after] = row.job;
    for (const auto& [job, concerned] : checks) {
        const std::string& number = table.jobs[job].job;
        const auto hand = desk.in_hand(number);
        if (!hand) continue;
        std::vector<TraceRowView> rows;
        for (const auto& [check, where] : concerned) rows.push_back(row_of(hand->state(), cards, check, where));
        TraceJobView of_job{.job = number, .place = place_of(hand->state()), .customer = fact_text(hand->state(), "customer.name"),
                            .state = std::string{record::in_words(hand->state().phase())}, .results = static_cast<int>(rows.size()),
                            .severe = static_cast<int>(std::count_if(rows.begin(), rows.end(), [](const TraceRowView& row) { return row.severity == "H"; })),
                            .letter = rows.empty() ? "" : letter_to(view, rows, desk.setup()), .revisit = ""};
        if (const auto visit = later.find(number); visit != later.end()) of_job.revisit = visit->second;
        view.jobs.push_back(std::move(of_job));
        view.rows.insert(view.rows.end(), rows.begin(), rows.end());
    }
    view.results = static_cast<int>(view.rows.size());
    std::stable_sort(view.rows.begin(), view.rows.end(), [](const TraceRowView& a, const TraceRowView& b) { return a.day < b.day; });
    std::stable_sort(view.jobs.begin(), view.jobs.end(), [](const TraceJobView& a, const TraceJobView& b) { return a.severe > b.severe; });
    view.sentence = view.kind == "instrument"
                        ? fmt::format("{} readings in {} jobs stand on {}. If it read wrongly they are no evidence, and their checks are open again.",
                                      view.results, view.jobs.size(), view.subject)
                        : fmt::format("{} jobs have {}; it stands behind {} checks.", view.jobs.size(), view.subject, view.results);
    return view;
}

}  // namespace wm::desk
