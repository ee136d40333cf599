// The words about the check at hand: what is asked and demanded, what a value would mean, what must be read first.
#pragma once

#include <string>
#include <vector>

#include "screens/label.hpp"
#include "screens/run_draft.hpp"

namespace wm::screens {

/// The title of a check of the job, or its id where the job has no such check.
[[nodiscard]] std::string title_of(const World& world, const std::string& check);

/// The hold points it waits for, those first that wait for none themselves.
[[nodiscard]] std::vector<std::string> first_to_do(const desk::CheckView& check, const World& world);

/// What must be read before the value is saved, in place of the question: in full size.
void warning_prose(Touch& touch, const Rect& at, const desk::Preview& preview);

/// What is kept with the figure, each in full, before the key that keeps it is pressed once more.
void said_prose(Touch& touch, const Rect& at, const std::vector<std::string>& said, const desk::Preview* preview);

/// Pixels in which a box of `width` shows all of it without scrolling; 0 where there is nothing to be read first.
[[nodiscard]] float height_to_read(const Touch& touch, float width, const std::vector<std::string>& said, const desk::Preview* warns);

/// Pixels in which the remedy is seen whole at the head of the question, as long as nobody has begun to answer anew; else 0.
[[nodiscard]] float remedy_height(const Touch& touch, float width, const desk::CheckView& check, const RunDraft& draft);

/// What comes first in the words about a check, as far as the first box.
[[nodiscard]] std::vector<Paragraph> first_read(const desk::CheckView& check, const RunDraft& draft, const desk::Preview* preview);

/// What the typed value would mean where there is a preview, question, what to do if it failed, cautions, reasons: the
/// scrolling part. No line of what is asked and required is cut through at its lower edge before it is scrolled.
void check_prose(Touch& touch, const Rect& at, const desk::CheckView& check, const World& world, const RunDraft& draft,
                 const desk::Preview* preview);

}  // namespace wm::screens
