// The pick list as JSON, for the forms of `parts`.
#pragma once

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/pick_list.hpp"

namespace wm::app {

[[nodiscard]] Json in_json(const desk::PickRow& row);

/// `parts tick`.
[[nodiscard]] Output tick_parts(const Arguments& arguments, const World& world);

}  // namespace wm::app
