// Views as JSON, in the shapes that outside scripts are written against.
#pragma once

#include <nlohmann/json.hpp>

#include "desk/view.hpp"

namespace wm::app {

using Json = nlohmann::ordered_json;

[[nodiscard]] Json in_json(const desk::JobRow& row);
[[nodiscard]] Json in_json(const desk::LimitsView& limits);
[[nodiscard]] Json in_json(const desk::ReadingView& reading);
[[nodiscard]] Json in_json(const desk::CheckView& check);
[[nodiscard]] Json in_json(const desk::JobView& job);
[[nodiscard]] Json in_json(const desk::Answer& answer);
[[nodiscard]] Json in_json(const desk::MessageView& message);
[[nodiscard]] Json in_json(const desk::DueView& due);
[[nodiscard]] Json in_json(const desk::WeekView& week);
[[nodiscard]] Json in_json(const desk::ActionView& action);

/// One document with a newline; a text that is no UTF-8 is shown with replacement characters.
[[nodiscard]] std::string document(const Json& json);

}  // namespace wm::app
