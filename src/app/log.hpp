// What was run and how it ended, one line a call, without a word that a person typed.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "app/output.hpp"

namespace wm::app {

/// "2026-11-27T09:10:00+05:00 0.1.0 job show exit 0 12 ms": the form and its second word only if they are words of the
/// program, so that nothing typed by mistake is kept.
[[nodiscard]] std::string log_line(const std::vector<std::string>& words, const Output& output, const std::string& when, std::int64_t took_ms);

/// Appends to witnessmark.log in `folder`. At 256 KiB it becomes witnessmark.log.1, that one .2, and what was .2 is deleted.
/// A log that cannot be written stops nobody.
void keep_line(const std::filesystem::path& folder, const std::string& line);

/// So many lines from the end, the rotated file before included.
[[nodiscard]] std::string read_log_end(const std::filesystem::path& folder, std::size_t lines);

/// For `main`: the line of this call, where a journal is.
void keep_call(const std::vector<std::string>& words, const Output& output, std::int64_t took_ms);

}  // namespace wm::app
