#include "desk/part_questions.hpp"

#include <algorithm>

#include "desk/pick_list.hpp"

namespace wm::desk {

namespace {

/// The list is worked out only where there is something to ask about.
bool was_ticked(const JobInHand& hand) {
    for (const auto* at = &hand; at != nullptr; at = at->earlier.get())
        if (std::any_of(at->state().facts.begin(), at->state().facts.end(), [](const auto& fact) { return is_tick(fact.first); })) return true;
    return false;
}

bool is_of(const PickRow& row, const std::string& check) {
    return row.check == check || std::find(row.roof.begin(), row.roof.end(), check) != row.roof.end();
}

}  // namespace

void ask_about_parts(Desk& desk, const JobInHand& hand, JobView& view) {
    if (!was_ticked(hand)) return;
    const auto list = pick_list(desk, hand.state().number);
    if (!list) {
        view.questions.insert(view.questions.begin(), "What was ticked of the parts cannot be held against their list. " + list.error().what);
        return;
    }
    std::vector<std::string> asked;
    for (const auto& row : list->rows)
        for (const auto& question : row.in_doubt) {
            bool is_asked = false;
            for (auto& check : view.checks) {
                if (!check.applies || check.outcome != Outcome::Open || !is_of(row, check.id)) continue;
                check.beforehand.insert(check.beforehand.begin(), question);
                is_asked = true;
            }
            if (is_asked) asked.push_back(question);
        }
    // What was asked about last, a fact or the clock, stays last.
    view.questions.insert(view.questions.begin(), asked.begin(), asked.end());
}

}  // namespace wm::desk
