// Where the profiles of instruments lie: those of the company before those of the program.
#pragma once

#include <string>

#include "app/world.hpp"
#include "instruments/profile.hpp"
#include "problem/result.hpp"

namespace wm::app {

/// A file where the name has a slash or ends in .toml; else NAME.toml in instruments/ of the data folder, else in
/// assets/instruments/ of the share folder. Problem names those that there are.
[[nodiscard]] Result<instruments::Profile> profile_named(const World& world, const std::string& name);

}  // namespace wm::app
