// The periods of the country that settings.toml names.
#pragma once

#include "app/world.hpp"
#include "desk/retention.hpp"

namespace wm::app {

/// assets/retention.toml beside the program; Problem when it cannot be read or has another country.
[[nodiscard]] Result<std::vector<desk::RetentionRules>> all_retention_rules(const World& world);
/// `[retention] country` of settings.toml; those of "none" where none is chosen.
[[nodiscard]] Result<desk::RetentionRules> retention_rules(const World& world);

}  // namespace wm::app
