// Sign-off: what blocks, what will be restricted, reading back, signatures, handing over.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

enum class SignMode {
    Pad,
    NameOnly,  ///< without a drawn signature: by keyboard, or where a hand cannot draw
    Refusing
};

struct SignDraft {
    std::string job;  ///< it was last seen for
    desk::Signer role = desk::Signer::Crew;
    SignMode mode = SignMode::Pad;
    std::string name;
    std::string refused_because;
    std::vector<desk::Stroke> strokes;
    bool pen_down = false;
    bool sent = false;  ///< to be kept, and not known to be yet
    double first_s = 0.0;  ///< monotonic time of the first touch
};

/// Gives the check a person wants to go to.
[[nodiscard]] std::optional<std::string> sign_screen(Touch& touch, const Rect& at,
                                                     const World& world, SignDraft& draft,
                                                     Requests& requests);

}  // namespace wm::screens
