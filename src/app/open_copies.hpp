// What lies open in the data folder: saved mails and reports, and what was half typed when a window ended.
#pragma once

#include <cstddef>
#include <filesystem>

#include "desk/desk.hpp"
#include "problem/result.hpp"

namespace wm::app {

/// Deletes the mails in outbox/, the reports in reports/ and what was half typed of every customer who is erased, here or by what a
/// bundle said, and counts them. What was saved elsewhere is not known here. Kind NotStored where one stays.
[[nodiscard]] Result<std::size_t> drop_copies_of_erased(desk::Desk& desk, const std::filesystem::path& data);

}  // namespace wm::app
