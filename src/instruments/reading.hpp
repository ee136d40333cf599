// One reading straight from an instrument: asked by its profile, with who it is and every byte that went over the wire.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "instruments/fault.hpp"
#include "instruments/profile.hpp"
#include "problem/result.hpp"

namespace wm::instruments {

struct Shown {
    std::string text;    ///< "480 kPa", as it is entered: `decimals` of the profile, its unit
    double value = 0.0;  ///< in the unit of the profile, unrounded
    std::string serial;  ///< "" if the instrument does not say it
    std::string mark;    ///< it is registered by; "" without a serial number
    std::vector<Exchange> raw;
};

/// Opens the port, asks who it is and what it shows, and closes the port: nothing is left to be unplugged between two
/// readings, and each reading proves anew which instrument it came from. Waits for the time of the profile at each question
/// and asks a second time where an answer was disturbed, so it ends after a few times that time. It blocks: never call it
/// where a window is drawn. Problem: what stood in the way, kind WrongUse for a port that does not fit the profile.
[[nodiscard]] Result<Shown> read_instrument(const Profile& profile, std::string_view port);

/// The bytes with all that is needed to work the reading out of them by hand, a line each.
[[nodiscard]] std::string evidence_of(const Profile& profile, std::string_view port, const Shown& shown, std::string_view read_at);

}  // namespace wm::instruments
