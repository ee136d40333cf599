// Which jobs of a week are looked at again: all that can hurt someone, some by lot, some that are aimed at.
#pragma once

#include <string>

#include "audit/week.hpp"

namespace wm::audit {

/// Days are ISO, all included; an empty seed is made of the week and the handovers of its jobs.
struct SampleSpan {
    std::string first_day;          ///< of the season that ends with the week
    std::string first_day_of_week;  ///< of the jobs looked at
    std::string last_day;
    std::string seed{};
};

/// Fills samples, finished and seed of a week whose severe rows, findings and questions stand. The lot of the draw are the jobs
/// handed over in the days of the week: one that is still worked at can be put right before anyone comes.
void draw_samples(Week& week, const Columns& columns, const CheckCards& cards, const SampleSpan& span);

}  // namespace wm::audit
