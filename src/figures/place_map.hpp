// Where the places of one check are: which bracket of the store, which joint of the loop.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "drawing/canvas.hpp"
#include "measure/outcome.hpp"

namespace wm::figures {

struct MapSpot {
    std::string place;  ///< "3", "collector in"
    measure::Outcome outcome = measure::Outcome::Open;
    bool current = false;
};

struct MapPlace {
    std::string place;
    drawing::Point centre;  ///< millimetres of the sheet
};

/// Whether two places of the check or more have a spot: brackets and clamps counted "1", "2" …, or joints and stretches by
/// the name that the checklists use.
[[nodiscard]] bool has_place_map(std::string_view check, const std::vector<std::string>& places);

/// Fills the box with equal scales both ways, 100 : 56. Brackets stand as seen from the ladder, the ridge on top: row by row
/// from the upper left. Gives where each place was drawn that has a spot;
/// nothing, and draws nothing, without a map.
std::vector<MapPlace> draw_place_map(drawing::Canvas& on, drawing::Box into, std::string_view check, const std::vector<MapSpot>& spots);

}  // namespace wm::figures
