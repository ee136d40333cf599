// Entries that were saved and are not in the journal any more, in words: at the opening and as a question of the week.
#pragma once

#include <string>
#include <vector>

#include "desk/desk.hpp"

namespace wm::desk {

/// What the person hears when the journal was opened and ended too early; see store/head_kept.cpp.
[[nodiscard]] Problem words_on_loss(const Desk& desk, const record::EntriesLost& lost);

/// A question for each loss that was told between the two days (both included, UTC). One whose entries came back by bundle is none.
[[nodiscard]] std::vector<WeekQuestionView> loss_questions(const std::vector<record::Written>& stream, const std::vector<record::Head>& heads,
                                                           const std::string& first_day, const std::string& last_day);

}  // namespace wm::desk
