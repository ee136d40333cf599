#include "desk/supplement.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "desk/figure_origins.hpp"
#include "desk/moment.hpp"
#include "desk/put_off.hpp"

namespace wm::desk {

void make_supplement(handover::ReportInput& input, const JobInHand& job, const JobView& view, int zone_minutes) {
    const auto& state = job.state();
    const auto& first = *first_handover(state);
    handover::ReportSupplement supplement;
    // Issues since the first: it and those after it, but not the one being written.
    supplement.number = 1 + static_cast<int>(std::count_if(
                                state.earlier_handovers.begin(), state.earlier_handovers.end(),
                                [&](const auto& earlier) { return earlier.origin.order >= first.origin.order; }));
    supplement.first_date = local_text(first.origin.time, zone_minutes).substr(0, 10);
    supplement.first_sha256 = first.handed.pdf_sha256;
    supplement.first_head = first.handed.head_before;

    const auto done = done_since(state);
    std::set<std::string> instruments;
    std::set<std::string> cautions;
    for (auto& stage : input.stages)
        std::erase_if(stage.checks, [&](const handover::ReportCheck& check) {
            return std::find(done.begin(), done.end(), check.id) == done.end();
        });
    for (const auto& check : view.checks) {
        if (std::find(done.begin(), done.end(), check.id) == done.end()) continue;
        if (check.outcome != Outcome::Deferred)
            supplement.done.push_back(fmt::format("{}: {}", check.title, measure::in_words(check.outcome)));
        for (const auto& reading : check.readings) instruments.insert(reading.instrument);
        for (const auto& caution : check.cautions) cautions.insert(caution.title);
    }
    for (const auto& check : view.checks)
        if (check.outcome == Outcome::Deferred && check.deferral)
            supplement.left.push_back(fmt::format("{}, until {}", check.title, check.deferral->until));
    JobView of_done = view;
    std::erase_if(of_done.checks, [&](const CheckView& check) { return std::find(done.begin(), done.end(), check.id) == done.end(); });
    input.origins = figure_origins(job, of_done, {});
    std::erase_if(input.instruments, [&](const auto& instrument) { return !instruments.contains(instrument.id); });
    std::erase_if(input.cautions, [&](const auto& caution) { return !cautions.contains(caution.title); });
    input.title = fmt::format("Solar water heater: supplement {} to the report of {}", supplement.number, supplement.first_date);
    input.supplement = std::move(supplement);
}

}  // namespace wm::desk
