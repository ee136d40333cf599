// The manual page and the completions of shells, made from the forms and the option table.
#pragma once

#include <string>
#include <string_view>

namespace wm::app {

/// witnessmark(1), for man.
[[nodiscard]] std::string manual_page();

[[nodiscard]] std::string completions_for_bash();
[[nodiscard]] std::string completions_for_zsh();
[[nodiscard]] std::string completions_for_fish();

/// Functions, units, facts and worked-out values for whoever writes checklists, as Markdown.
[[nodiscard]] std::string checklist_tables();

/// "0.1.0"
[[nodiscard]] std::string_view program_version();

}  // namespace wm::app
