// Times in a job that no clock gave: told in one sentence, so that nobody dates anything back unseen.
#pragma once

#include <string>
#include <vector>

#include "record/state.hpp"

namespace wm::desk {

/// Whether the reading bears another time than that of its entry, by more than a stamp may lead a clock.
[[nodiscard]] bool is_dated_apart(const record::Reading& reading);

/// How many entries of the job carry a time given by hand, and how many readings one that is not theirs. Nothing
/// where there are none.
[[nodiscard]] std::vector<std::string> sentences_on_times(const record::JobState& job);

}  // namespace wm::desk
