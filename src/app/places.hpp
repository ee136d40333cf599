// Where things lie on this machine: data, settings, log, share folder, fonts. Folders of a person follow the XDG base
// directory specification (0.8); with --data everything of that folder stays in it.
#pragma once

#include <filesystem>
#include <string>

#include "handover/font_files.hpp"

namespace wm::app {

/// A variable of the environment; empty where it is not set.
[[nodiscard]] std::string environment(const char* name);

/// $XDG_DATA_HOME/witnessmark, else ~/.local/share/witnessmark; without a home, witnessmark-data where one stands.
[[nodiscard]] std::filesystem::path default_data();

/// `name` (settings.toml, window.toml) in the data folder if it is there already; else, for the default data folder, in
/// $XDG_CONFIG_HOME/witnessmark (~/.config/witnessmark); else in the data folder.
[[nodiscard]] std::filesystem::path settings_file(const std::filesystem::path& data, const std::string& name);

/// $XDG_STATE_HOME/witnessmark/log (~/.local/state/…) of the default data folder; log/ in any other.
[[nodiscard]] std::filesystem::path log_folder(const std::filesystem::path& data);

/// WITNESSMARK_SHARE, else beside an installed program or at the top of the tree it was built in.
[[nodiscard]] std::filesystem::path share_folder();

/// languages/ beside the program where it was built, else of the share folder.
[[nodiscard]] std::filesystem::path language_folder(const std::filesystem::path& share);
/// fonts/ of the share folder, else where Debian keeps DejaVu.
[[nodiscard]] std::filesystem::path font_folder(const std::filesystem::path& share);

}  // namespace wm::app
