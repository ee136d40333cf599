// Three passes over the list, each from the check at hand round to it again.
#include "screens/next_check.hpp"

#include <algorithm>

namespace wm::screens {
namespace {

using desk::CheckView;
using desk::EntryForm;
using measure::Outcome;

bool is_entered(const CheckView& check) {
    return check.form != EntryForm::None && check.form != EntryForm::Signature;
}

bool runs_by_itself(const desk::JobView& job, const CheckView& check, const std::vector<SeriesRun>& runs,
                    std::int64_t now_s) {
    return std::any_of(runs.begin(), runs.end(), [&](const SeriesRun& run) {
        const NextDue due = next_due(run, now_s);
        return run.job == job.row.job && run.check == check.id && !due.all_taken && due.in_s > 0;
    });
}

bool is_open(const CheckView& check) { return check.applies && is_entered(check) && check.outcome == Outcome::Open; }

bool needs_a_correction(const CheckView& check) {
    return check.applies && check.concession.empty() &&
           (check.outcome == Outcome::DoesNotConform || check.outcome == Outcome::Inconclusive);
}

}  // namespace

const CheckView* next_useful(const desk::JobView& job, std::string_view from, const std::vector<SeriesRun>& runs,
                             std::int64_t now_s) {
    const auto& all = job.checks;
    const auto here = std::find_if(all.begin(), all.end(), [&](const CheckView& check) { return check.id == from; });
    const std::size_t start = here == all.end() ? 0 : static_cast<std::size_t>(here - all.begin()) + 1;
    const auto nearest = [&](const auto& wanted) -> const CheckView* {
        for (std::size_t i = 0; i < all.size(); ++i) {
            const CheckView& check = all[(start + i) % all.size()];
            if (check.id != from && wanted(check)) return &check;
        }
        return nullptr;
    };
    const CheckView* next = nearest([&](const CheckView& check) {
        return is_open(check) && check.waits_for.empty() && !runs_by_itself(job, check, runs, now_s);
    });
    if (next == nullptr) next = nearest(needs_a_correction);
    if (next == nullptr)
        next = nearest([&](const CheckView& check) { return is_open(check) && !runs_by_itself(job, check, runs, now_s); });
    return next;
}

int waiting_between(const desk::JobView& job, std::string_view from, std::string_view next) {
    const auto& all = job.checks;
    const auto place = [&](std::string_view id) {
        return static_cast<std::size_t>(std::find_if(all.begin(), all.end(), [&](const CheckView& check) { return check.id == id; }) -
                                        all.begin());
    };
    const std::size_t here = place(from);
    const std::size_t there = place(next);
    if (here == all.size() || there == all.size()) return 0;
    int waiting = 0;
    for (std::size_t i = (here + 1) % all.size(); i != there && i != here; i = (i + 1) % all.size())
        if (is_open(all[i]) && !all[i].waits_for.empty()) ++waiting;
    return waiting;
}

}  // namespace wm::screens
