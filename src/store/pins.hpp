// Texts that jobs pin by their hash: published checklists with what they refer to.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"
#include "store/disk.hpp"

namespace wm::store {

/// Keeps the text as pins/<SHA-256 of the text> in the data folder, synced, and gives the hash.
/// A text that is there already is left alone.
[[nodiscard]] Result<std::string> keep_pin(const std::filesystem::path& folder, std::string_view text,
                                           Disk& disk = system_disk());

/// The text of that hash, recomputed on reading: a changed file is refused.
[[nodiscard]] Result<std::string> read_pin(const std::filesystem::path& folder, std::string_view hash,
                                           Disk& disk = system_disk());

/// What a company published and keeps below checklists/ of a data folder or of its backups, as paths within that folder,
/// sorted. Without any: none.
[[nodiscard]] std::vector<std::filesystem::path> published_lists(const std::filesystem::path& folder);

/// Whether a text is kept under that hash, sound or not.
[[nodiscard]] Result<bool> has_pin(const std::filesystem::path& folder, std::string_view hash,
                                   Disk& disk = system_disk());

/// Takes a kept text away again; a missing one is fine.
[[nodiscard]] Result<void> drop_pin(const std::filesystem::path& folder, std::string_view hash,
                                    Disk& disk = system_disk());

}  // namespace wm::store
