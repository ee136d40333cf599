// TOML for settings and entry files, with trouble as a value and not as an exception.
#pragma once

// As in the room that reads checklists: two meanings of one library in one program would crash.
#define TOML_EXCEPTIONS 0
#include <toml++/toml.h>

#include <fmt/format.h>

#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::app {

/// The table of a text, or a Problem with file, line and column.
[[nodiscard]] inline Result<toml::table> read_toml(std::string_view text, std::string_view file) {
    auto parsed = toml::parse(text, file);
    if (parsed) return std::move(parsed).table();
    const auto& error = parsed.error();
    return refused({fmt::format("The file cannot be understood: {}.", error.description()),
                    fmt::format("{}:{}:{}", file, error.source().begin.line, error.source().begin.column),
                    "Mend that line.", ProblemKind::Unreadable});
}

}  // namespace wm::app
