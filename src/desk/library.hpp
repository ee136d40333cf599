// The checklists as texts, read, and pinned by their hash.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <string_view>

#include "checklist/model.hpp"
#include "problem/result.hpp"

namespace wm::desk {

/// File name ("commissioning.toml") to content. cautions.toml and instruments.toml must be there.
using LibraryTexts = std::map<std::string, std::string, std::less<>>;

/// Reads all of them; a fault in any refuses the whole, with file, line and column.
[[nodiscard]] Result<std::shared_ptr<const checklist::Library>> read_library(const LibraryTexts& texts);

/// One text of what a job pins: its checklist, cautions, instrument types and settings. A line
/// "file NAME BYTES" stands before the content of each.
[[nodiscard]] Result<std::string> pin_text(const LibraryTexts& texts, std::string_view checklist_name);

/// The texts of a pin.
[[nodiscard]] Result<LibraryTexts> texts_of_pin(std::string_view pin);

}  // namespace wm::desk
