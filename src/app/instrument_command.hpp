// `enter` and `correct` with a reading that comes straight from an instrument.
#pragma once

#include "app/arguments.hpp"
#include "app/output.hpp"
#include "app/world.hpp"

namespace wm::app {

/// Whether the words ask for an instrument, or go on with what one gave.
[[nodiscard]] inline bool is_from_instrument(const Arguments& arguments) {
    return arguments.has("from-instrument") || arguments.has("go-on");
}

[[nodiscard]] Output enter_from_instrument(const Arguments& arguments, const World& world);

}  // namespace wm::app
