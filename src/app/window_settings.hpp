// What the window keeps of itself (window.toml) and the mail server (settings.toml); places.hpp says where.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "desk/outbox.hpp"
#include "screens/theme.hpp"
#include "screens/world.hpp"

namespace wm::app {

struct WindowSettings {
    screens::Look look = screens::Look::Day;
    int text_percent = 100;
    std::optional<float> px_per_mm;
    screens::Sound sound = screens::Sound::On;
    screens::PicturePlace picture_place = screens::PicturePlace::LeftOut;
    int lock_minutes = 10;  ///< 0 to 600; 0 = never
    std::string photos{};   ///< folder that pictures are chosen from; empty: that of the data folder
};

/// Whether a window that locks after `minutes` stays open longer than one that locks after `than`; 0 = never.
[[nodiscard]] bool stays_open_longer(int minutes, int than);
/// What a lead alone may do where persons have PINs, for the words of a refusal.
inline constexpr std::string_view let_it_stay_open = "let the window stay open longer";

[[nodiscard]] std::optional<screens::Look> look_named(std::string_view word);

/// Defaults for what is missing or cannot be read: a bad setting never keeps the window shut.
[[nodiscard]] WindowSettings read_window_settings(const std::filesystem::path& data);
void keep_look(const std::filesystem::path& data, screens::Look look);
void keep_text_size(const std::filesystem::path& data, int percent);
void keep_sound(const std::filesystem::path& data, screens::Sound sound);
void keep_picture_place(const std::filesystem::path& data, screens::PicturePlace place);
void keep_lock_minutes(const std::filesystem::path& data, int minutes);
void keep_scale(const std::filesystem::path& data, float px_per_mm);
/// A name that is no UTF-8 is not kept: no settings file could be read that holds it.
void keep_photo_folder(const std::filesystem::path& data, const std::string& folder);

/// Company, keys and device as the settings screen shows them.
[[nodiscard]] desk::SettingsView settings_view(const desk::Desk& desk);
/// "" if none is set.
[[nodiscard]] std::string mail_server_of(const std::filesystem::path& data);
/// Sends by the server of the settings; without one, each try says what to do.
[[nodiscard]] desk::Send sender_of(const std::filesystem::path& data);

}  // namespace wm::app
