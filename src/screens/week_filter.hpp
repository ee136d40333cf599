// Which part of the jobs the week is looked at for: crew, roof, batch and the like, chosen by keys.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

/// What is half chosen. Shown while `is_open`.
struct FilterDraft {
    bool is_open = false;
    desk::WeekFilterView filter{};
};

/// Keys side by side, each at least so wide; gives the place of the one that was pressed.
[[nodiscard]] std::optional<std::size_t> choice_keys(Touch& touch, ScrollArea& area, const std::vector<desk::WeekChoiceView>& choices,
                                                     const std::string& chosen, float wide_mm);

/// "crew Tindo Quellaby, 4 weeks"; empty for all jobs of one week.
[[nodiscard]] std::string filter_in_words(const desk::WeekView& week);

/// Asks for the week anew once "Show" is pressed.
void filter_sheet(Touch& touch, const Rect& at, const desk::WeekView& week, FilterDraft& draft, Requests& requests);

}  // namespace wm::screens
