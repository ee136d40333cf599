// A checklist on the lead's bench: half changed, kept on the disk with every step, published by nobody yet.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "desk/desk.hpp"
#include "desk/workshop_view.hpp"

namespace wm::desk {

/// The form of a check; empty where it is not in the text.
[[nodiscard]] std::vector<FormField> form_of(const std::string& text, std::string_view check);

/// Takes the step. The draft lies in checklists/draft/<list>.toml of the data folder, so nothing written is lost with
/// the window; what was put aside or published before lies there as <list>-before.toml. A value that would reach
/// beyond its place is refused, lines that are no TOML are kept and told as a fault. Only a lead may.
[[nodiscard]] Result<ListDraftView> carry_out(Desk& desk, const DraftStep& step);

}  // namespace wm::desk
