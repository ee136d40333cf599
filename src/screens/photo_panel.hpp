// Choosing a picture for a reading from the files offered.
#pragma once

#include "screens/run_draft.hpp"

namespace wm::screens {

/// The last part of a path.
[[nodiscard]] std::string file_name(std::string_view path);

/// Pictures beside their names, newest first. Gives the path that was pressed.
[[nodiscard]] std::optional<std::string> photo_rows(Touch& touch, const Rect& at, const World& world, std::string_view chosen,
                                                    LookAsked& asked, Requests& requests);

/// So high that all pictures are seen in an area of this width, with the keys above and below them.
[[nodiscard]] float photo_entry_height(const Touch& touch, float width, const World& world);

/// So high that a row of pictures is seen whole, no lower than a key; and of what stands below the pictures alone.
[[nodiscard]] float photo_entry_least(const Touch& touch, float width, const World& world);
[[nodiscard]] float photo_keys_height(const Touch& touch, float width);

/// Entry area of a check that is a photo. `in_turns` where question and pictures have no room together: then a key turns from
/// one to the other, and the pictures are only there while LookAsked::shows_pictures.
void photo_entry(Touch& touch, const Rect& at, const desk::CheckView& check, const World& world, bool in_turns,
                 RunDraft& draft, Requests& requests);

/// The panel that adds a picture to any other reading.
void photo_panel(Touch& touch, const Rect& at, const desk::CheckView& check, const World& world,
                 RunDraft& draft, Requests& requests);

}  // namespace wm::screens
