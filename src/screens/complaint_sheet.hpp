// A customer's call: taken, what is likely behind it at this house, a visit for it, its end.
#pragma once

#include <optional>
#include <string>

#include "desk/intent.hpp"
#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

enum class ComplaintMode { Reading, Taking, Closing };

/// What is half written, and of which house. Shown while `is_open`.
struct ComplaintDraft {
    bool is_open = false;
    ComplaintMode mode = ComplaintMode::Reading;
    std::string job;
    desk::TakeComplaint take;
    desk::CloseComplaint close;
    std::optional<ComplaintMode> sent{};  ///< on its way to the desk: comes back if it is refused
    int sent_after = 0;                   ///< World::answered as of then
    bool was_on_its_way = false;
};

/// The sheet for the house of a job, and the question for it.
void open_complaints(ComplaintDraft& draft, const std::string& job, Requests& requests);

/// Gives back what was refused. Once a frame while something is on its way, also where a message covers the sheet.
void look_after_call(const World& world, ComplaintDraft& draft);

/// Gives a job a person wants to look at.
[[nodiscard]] std::optional<std::string> complaint_sheet(Touch& touch, const Rect& at, const World& world, ComplaintDraft& draft,
                                                         Requests& requests);

}  // namespace wm::screens
