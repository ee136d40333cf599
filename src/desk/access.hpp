// Giving and taking PINs: what window and command line do alike.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "desk/desk.hpp"

namespace wm::desk {

/// Gives a person a PIN, or another one, and says who it is now. Without `role` a person keeps the own; the
/// first is an owner, another an installer. Of one's own the PIN is changed by anybody, the rest by an owner.
[[nodiscard]] Result<store::Person> give_pin(Desk& desk, const std::string& name, std::optional<store::Role> role,
                                             std::string_view pin);

/// By an owner. The last owner stays.
[[nodiscard]] Result<void> take_pin_away(Desk& desk, const std::string& name);

}  // namespace wm::desk
