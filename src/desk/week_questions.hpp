// Questions of a week in one line each, with what was asked and about whom.
#pragma once

#include <string>

#include "desk/view.hpp"

namespace wm::desk {

/// Whether homes may burst before anybody answers: what frost does waits for no reply.
[[nodiscard]] bool is_about_frost(const WeekQuestionView& question);

/// "Settle the frost class of Millpond Hollow before the first frost: …". `title` is that of the check, empty without one.
[[nodiscard]] std::string in_short(const WeekQuestionView& question, const std::string& title);

}  // namespace wm::desk
