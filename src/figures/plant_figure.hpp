// The plant drawing: how this house's set is made up, and how far its checks have come.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "drawing/canvas.hpp"
#include "figures/plant_stations.hpp"
#include "measure/outcome.hpp"

namespace wm::figures {

enum class LoopKind { Direct, Indirect };
enum class FeedKind { Mains, Vented };
enum class StorePlace { CloseCoupled, Raised };
enum class Covering { Tile, Slate, MetalSheet, FlatSlab, Other };
enum class Fitting { Absent, Fitted };

/// What is fitted; the drawing shows a part only if it is there. What is empty nobody has stated: it is left out or
/// dashed, and named below the drawing.
struct PlantShape {
    std::optional<LoopKind> loop = LoopKind::Indirect;
    std::optional<FeedKind> feed = FeedKind::Mains;
    std::optional<StorePlace> store = StorePlace::Raised;
    Covering covering = Covering::Tile;
    std::optional<Fitting> controller = Fitting::Absent;
    bool mixing_valve = true;
    bool relief_valve = true;
    bool expansion_vessel = false;
    std::string roof_word;  ///< as in the facts, "clay tile"; empty prints "roof"

    friend bool operator==(const PlantShape&, const PlantShape&) = default;
};

/// One check on the drawing. `label` is printed beside the mark, mostly its number in the list;
/// empty for none.
struct PlantPin {
    std::string check;
    measure::Outcome outcome = measure::Outcome::Open;
    std::string label;
    bool current = false;  ///< ringed as the check at hand
};

/// `pin_mm` is the wanted size of a mark on the sheet; marks shrink where a station has many.
struct PlantInput {
    PlantShape shape;
    std::vector<PlantPin> pins;
    double pin_mm = 3.4;
};

struct PinPlace {
    std::string check;
    drawing::Point centre;
    double radius_mm = 0.0;
};
struct StationPlace {
    Station station = Station::People;
    drawing::Box box;  ///< around the station's pins, for a finger that misses the pin
};
struct PlantPlaces {
    std::vector<PinPlace> pins;          ///< in the order of the input
    std::vector<StationPlace> stations;  ///< those that have pins
};

/// Draws the plant as large as fits into `into` (its proportion is plant_width to plant_height).
/// A part is drawn faint until all checks of its station conform or do not apply, then in full.
PlantPlaces draw_plant(drawing::Canvas& on, drawing::Box into, const PlantInput& input);

}  // namespace wm::figures
