// The settings of instruments.toml as the conventions the plant's equations count with.
#pragma once

#include "checklist/model.hpp"
#include "plant/derived.hpp"

namespace wm::checklist {

/// Each setting of the library in its place; what the library does not set keeps its default.
[[nodiscard]] plant::Conventions conventions_of(const Library& library);

/// The names that mean something to `conventions_of`, for the linter.
[[nodiscard]] bool is_convention(std::string_view setting);

}  // namespace wm::checklist
