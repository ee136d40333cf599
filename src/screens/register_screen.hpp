// Tables for the quality lead: sorted by a touch on a column, searched, copied as CSV, a row opened for its history.
#pragma once

#include <optional>
#include <string>

#include "screens/touch.hpp"
#include "screens/workshop_sheet.hpp"
#include "screens/world.hpp"

namespace wm::screens {

struct RegisterDraft {
    std::optional<desk::Register> shown;  ///< which register; nothing: the settings themselves
    std::string search;
    std::size_t column = 0;
    desk::Order order = desk::Order::Rising;
    std::string opened;  ///< first cell of the row whose history is shown
    bool copied = false;
    WorkshopDraft workshop;  ///< shown while it names a list
};

/// The register of the draft, or a word that it is being read.
void register_screen(Touch& touch, const Rect& at, const World& world, RegisterDraft& draft, Requests& requests);

}  // namespace wm::screens
