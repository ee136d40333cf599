#include "audit/other_jobs.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <utility>

namespace wm::audit {

namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, 7> words{{
    {"crew and check", "like jobs of the other crews"},
    {"batch and check", "like jobs with other batches"},
    {"crew, check and household", "the other crews in such homes"},
    {"recent weeks and check", "the weeks before"},
    {"crew and deferrals", "what the other crews put off"},
    {"instrument drift", "what the other gauges of the same streets read"},
    {"complaints and check", "like homes where the check was not left out"},
}};

bool is_about_failures(std::string_view kind) {
    return kind == "crew and check" || kind == "batch and check" || kind == "crew, check and household" || kind == "recent weeks and check";
}

}  // namespace

std::optional<std::vector<std::string>> other_jobs(const Columns& columns, const Finding& finding, std::string_view first_day, std::string_view last_day) {
    const auto check = columns.names().check.find(finding.check);
    if (!is_about_failures(finding.kind) || !check) return std::nullopt;
    const std::set<std::string_view> own{finding.jobs.begin(), finding.jobs.end()};
    const Day first = day_code(first_day), last = day_code(last_day);
    std::vector<std::string> jobs;
    for (std::size_t job = 0; job < columns.job_count(); ++job)
        for (auto row = columns.results_of(job).first; row < columns.results_of(job).last; ++row) {
            const Day day = columns.results().day[row];
            if (columns.results().check[row] == *check && columns.failed(row) && day >= first && day <= last && !own.contains(columns.card(job).job))
                jobs.push_back(columns.card(job).job);
        }
    // Those compared with are among these. As many means the same; more means that some are unlike and were left out.
    if (std::ssize(jobs) != finding.others.failed) return std::nullopt;
    std::sort(jobs.begin(), jobs.end());
    return jobs;
}

std::string_view compared_with(std::string_view kind) {
    const auto* found = std::find_if(words.begin(), words.end(), [&](const auto& one) { return one.first == kind; });
    return found == words.end() ? "the others" : found->second;
}

}  // namespace wm::audit
