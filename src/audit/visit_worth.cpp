#include "audit/visit_worth.hpp"

#include <fmt/format.h>

#include <cmath>

#include "audit/sampling.hpp"
#include "audit/shares.hpp"

namespace wm::audit {

namespace {

std::string in_words(const Interval& interval) { return fmt::format("{:.0f} to {:.0f} %", 100.0 * interval.low, 100.0 * interval.high); }

}  // namespace

Result<std::int64_t> most_wanting(std::int64_t lot, std::int64_t visits) {
    constexpr double doubt = 0.05;
    if (visits < 1 || visits > lot)
        return refused({"So many jobs cannot be visited.", "visits", "Give from 1 to as many as there are.", ProblemKind::WrongUse});
    std::int64_t most = 0;
    // The chance falls with each job that is wanting; halving keeps a lot of thousands quick.
    for (std::int64_t low = 0, high = lot - visits; low <= high;) {
        const auto middle = low + (high - low) / 2;
        const auto clean = acceptance_probability(Plan{visits, 0}, Lot{lot, middle});
        if (!clean) return tl::unexpected(clean.error());
        if (*clean >= doubt) {
            most = middle;
            low = middle + 1;
        } else {
            high = middle - 1;
        }
    }
    return most;
}

std::string narrowed_by_clean_visit(std::int64_t finished, std::int64_t visits) {
    const auto now = most_wanting(finished, visits);
    const auto before = visits > 1 ? most_wanting(finished, visits - 1) : Result<std::int64_t>{finished};
    if (!now || !before) return "";
    return fmt::format("if it is in order, at most {} of the week's {} jobs are not (95 %), instead of {}", *now, finished, *before);
}

std::string narrowed_by_one_more(const Finding& finding) {
    if (finding.own.tries < 1 || finding.kind == "instrument drift") return "";
    const auto now = wilson(finding.own);
    const auto wanting = wilson({finding.own.failed + 1, finding.own.tries + 1});
    const auto in_order = wilson({finding.own.failed, finding.own.tries + 1});
    if (!now || !wanting || !in_order) return "";
    return fmt::format("the share of {} in {}, likely {}, becomes {} if it is in order now, {} if not (95 %)", finding.own.failed, finding.own.tries,
                       in_words(*now), in_words(*in_order), in_words(*wanting));
}

std::string narrowed_by_answer(const Observation& question) {
    if (question.jobs.empty()) return "";
    const auto one = wilson({0, 1});
    if (!one) return "";
    return fmt::format("of these {} jobs nobody knows how many are wanting, 0 to 100 %; if this one is in order, 0 to {:.0f} % (95 %)", question.jobs.size(),
                       100.0 * one->high);
}

}  // namespace wm::audit
