// The plant drawing with its checks, and the list of checks beneath it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "figures/plant_figure.hpp"
#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

enum class ListShows { Stage, Open, Found };

/// Which checks the list shows: those of a stage, all open ones, those with the words that were searched, those of a
/// part that was touched, or those whose marks lie together under the finger.
struct PlantDraft {
    std::optional<figures::Station> part;
    std::vector<std::string> nearby;  ///< checks of a touch that several marks may have been meant by; else empty
    ListShows shows = ListShows::Stage;
    std::string search;            ///< words of a title
    float zoom = 1.0F;             ///< 1 to 4: how much larger than it fits
    float left_mm = 0.0F;          ///< what of the enlarged drawing lies left of the panel
    float top_mm = 0.0F;           ///< and above it
    std::optional<Contact> finger; ///< where the finger was in the last frame, while it is down
    std::string listed_at;         ///< the check the list was last scrolled to
    int look_frames = 0;           ///< frames in which the list still has to be scrolled there
    bool dragged = false;          ///< the finger moved too far to choose a mark
};

/// How many checks of the job nobody has answered yet.
[[nodiscard]] int still_open(const desk::JobView& job);

/// A mark is a few millimetres wide and a finger in a glove is not: marks whose middle lies this close to the touch may be meant.
inline constexpr float mark_reach_mm = key_mm / 2.0F;

/// The drawing. A touch at one mark gives its check; where several may be meant the list shows them to choose from. It
/// also chooses the part.
[[nodiscard]] std::optional<std::string> plant_panel(Touch& touch, const Rect& at,
                                                     const desk::JobView& job,
                                                     std::string_view current, PlantDraft& draft);

/// The drawing alone, with keys that enlarge it; a finger moves what is enlarged. Marks to choose from are listed beside or
/// below it, on a small glass in its place.
[[nodiscard]] std::optional<std::string> plant_sheet(Touch& touch, const Rect& at, const desk::JobView& job,
                                                     std::string_view current, PlantDraft& draft);

/// Rows of the checks of `stage`, or of the chosen part. Gives the one that was pressed.
struct ListFace {
    std::string_view stage;
    std::string_view current;
};
[[nodiscard]] std::optional<std::string> check_list(Touch& touch, const Rect& at,
                                                    const desk::JobView& job, const ListFace& face,
                                                    PlantDraft& draft);

}  // namespace wm::screens
