#include "desk/trace.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <unordered_map>

#include "audit/likeness.hpp"
#include "audit/reverse_trace.hpp"
#include "desk/actions.hpp"
#include "desk/week.hpp"

namespace wm::desk {

namespace {

Problem not_used(std::string_view what, const std::string& name) {
    return {fmt::format("No job names this {}.", what), fmt::format("{} {}", what, name), "Check it letter by letter, as engraved or printed.",
            ProblemKind::Unreadable};
}

/// Where the rows of a trace come from: nothing of it is folded again.
class Tracer {
public:
    Tracer(const audit::Columns& columns, const audit::CheckCards& cards, const std::vector<JobRow>& listed)
        : columns_{columns}, cards_{cards} {
        for (const auto& row : listed) by_number_.emplace(row.job, &row);
    }

    /// One reading of the instrument.
    [[nodiscard]] TraceRowView of_use(std::size_t job, std::size_t row) const {
        auto use = columns_.use(job, row);
        auto view = of_check(job, use.check);
        view.where = std::move(use.place);
        view.text = std::move(use.text);
        view.day = std::move(use.day);
        return view;
    }
    /// One check that a part stands behind.
    [[nodiscard]] TraceRowView of_result(std::size_t job, std::size_t row) const {
        auto view = of_check(job, columns_.check(row));
        view.day = audit::day_text(columns_.results().day[row]);
        return view;
    }
    /// nullptr for a job that cannot be read.
    [[nodiscard]] const JobRow* listed(std::size_t job) const {
        const auto found = by_number_.find(columns_.card(job).job);
        return found == by_number_.end() ? nullptr : found->second;
    }

private:
    [[nodiscard]] TraceRowView of_check(std::size_t job, const std::string& check) const {
        TraceRowView row{.job = columns_.card(job).job, .place = "", .customer = "", .check = check, .title = audit::title_of(cards_, check),
                         .where = "", .text = "", .day = "", .outcome = "", .hold = false, .severity = ""};
        if (const auto* known = listed(job)) {
            row.place = known->place;
            row.customer = known->customer;
        }
        if (const auto card = cards_.find(check); card != cards_.end()) {
            row.hold = card->second.hold;
            row.severity = std::string{card->second.severity};
        }
        const auto code = columns_.names().check.find(check);
        const auto range = columns_.results_of(job);
        for (auto at = range.first; at < range.last; ++at)
            if (columns_.results().check[at] == code) row.outcome = columns_.names().outcome.text(columns_.results().outcome[at]);
        return row;
    }

    const audit::Columns& columns_;
    const audit::CheckCards& cards_;
    std::unordered_map<std::string_view, const JobRow*> by_number_;
};

std::string letter_to(const TraceView& view, const std::vector<TraceRowView>& rows, const TraceSender& from) {
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
    text += fmt::format("\n{}{}{}\n", from.company, from.contact.empty() ? "" : ", ", from.contact);
    return text;
}

using RowsByJob = std::map<std::size_t, std::vector<TraceRowView>>;

Result<RowsByJob> rows_of_instrument(const audit::Columns& columns, const Tracer& tracer, const TraceAsked& asked) {
    const audit::ReverseIndex index{columns};
    const auto known = index.instruments();
    if (!std::binary_search(known.begin(), known.end(), asked.instrument)) return refused(not_used("instrument", asked.instrument));
    RowsByJob rows;
    for (const auto use : index.uses_of({asked.instrument, asked.from, asked.until})) {
        const auto job = columns.job_of_use(use);
        rows[job].push_back(tracer.of_use(job, use));
    }
    return rows;
}

Result<RowsByJob> rows_of_batch(const audit::Columns& columns, const Tracer& tracer, const TraceAsked& asked) {
    const auto with = audit::ReverseIndex{columns}.jobs_with(asked.batch);
    if (with.empty()) return refused(not_used("batch", asked.batch));
    RowsByJob rows;
    for (const auto& use : with) {
        auto& of_job = rows[use.job];
        const auto range = columns.results_of(use.job);
        for (auto row = range.first; row < range.last; ++row) {
            const auto behind = audit::materials_behind(columns.check(row));
            if (std::find(behind.begin(), behind.end(), use.material) != behind.end()) of_job.push_back(tracer.of_result(use.job, row));
        }
    }
    return rows;
}

std::optional<Problem> unfit(const TraceAsked& asked) {
    if (asked.instrument.empty() && asked.batch.empty())
        return Problem{"Neither an instrument nor a batch is named.", "trace", "Write --instrument ID --from DATE, or --batch B.", ProblemKind::WrongUse};
    for (const auto& day : {asked.from, asked.until})
        if (!day.empty() && !days_between(day, day))
            return Problem{fmt::format("\"{}\" is no date.", day), "trace", "Write it as 2027-03-18.", ProblemKind::WrongUse};
    return std::nullopt;
}

}  // namespace

Result<TraceView> traced(const audit::Columns& columns, const audit::CheckCards& cards, const std::vector<JobRow>& listed,
                         const TraceSender& sender, const TraceAsked& asked) {
    if (auto problem = unfit(asked)) return refused(*std::move(problem));
    TraceView view;
    view.kind = asked.batch.empty() ? "instrument" : "batch";
    view.subject = asked.batch.empty() ? asked.instrument : asked.batch;
    view.from = asked.from;
    view.until = asked.until;
    const Tracer tracer{columns, cards, listed};
    auto found = asked.batch.empty() ? rows_of_instrument(columns, tracer, asked) : rows_of_batch(columns, tracer, asked);
    if (!found) return tl::unexpected(found.error());
    std::unordered_map<std::string_view, std::string_view> later;
    for (const auto& row : listed)
        if (!row.after.empty() && row.kind == "service") later[row.after] = row.job;
    for (auto& [job, rows] : *found) {
        const auto* known = tracer.listed(job);
        if (known == nullptr) continue;
        TraceJobView of_job{.job = known->job, .place = known->place, .customer = known->customer, .state = known->state,
                            .results = static_cast<int>(rows.size()),
                            .severe = static_cast<int>(std::count_if(rows.begin(), rows.end(), [](const TraceRowView& row) { return row.severity == "H"; })),
                            .letter = rows.empty() ? "" : letter_to(view, rows, sender), .revisit = ""};
        if (const auto visit = later.find(known->job); visit != later.end()) of_job.revisit = visit->second;
        view.jobs.push_back(std::move(of_job));
        std::move(rows.begin(), rows.end(), std::back_inserter(view.rows));
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

Result<TraceView> trace_view(Desk& desk, const TraceAsked& asked) {
    if (auto problem = unfit(asked)) return refused(*std::move(problem));
    const auto columns = desk.audit_columns();
    if (!columns) return tl::unexpected(columns.error());
    const auto listed = desk.job_rows();
    if (!listed) return tl::unexpected(listed.error());
    auto view = traced(**columns, cards_of(desk.library()), *listed, {desk.setup().company, desk.setup().company_contact}, asked);
    if (!view) return view;
    const auto office = office_at(desk);
    if (!office) return tl::unexpected(office.error());
    for (const auto& [origin, doubt] : office->doubted_instruments) view->doubted = view->doubted || doubt.instrument == view->subject;
    for (const auto& [origin, doubt] : office->doubted_batches) view->doubted = view->doubted || doubt.batch == view->subject;
    return view;
}

}  // namespace wm::desk
