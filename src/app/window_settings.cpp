#include "app/window_settings.hpp"

#include <fmt/format.h>

#include "app/places.hpp"
#include "app/world.hpp"
#include "checklist/document.hpp"
#include "checklist/rewrite.hpp"
#include "desk/backup.hpp"
#include "digest/text.hpp"
#include "units/reading.hpp"

namespace wm::app {

namespace {

// What cannot be read counts as empty here: opening the data folder has already complained about it.
checklist::Item table_in(const std::filesystem::path& file) {
    const auto text = read_file(file);
    if (!text) return {};
    auto table = checklist::read_document(*text, file.native());
    return table ? std::move(*table) : checklist::Item{};
}

WindowSettings window_in(const std::filesystem::path& data) {
    const auto table = table_in(settings_file(data, "window.toml"));
    WindowSettings settings;
    settings.look = look_named(word_at(table, "window", "look", "day")).value_or(screens::Look::Day);
    if (word_at(table, "window", "sound", "on") == "off") settings.sound = screens::Sound::Off;
    if (word_at(table, "window", "picture_place", "left out") == "kept") settings.picture_place = screens::PicturePlace::Kept;
    settings.photos = word_at(table, "window", "photos", "");
    const auto* window = table.find("window");
    if (window == nullptr) return settings;
    if (const auto* percent = window->find("text_percent");
        percent != nullptr && percent->number >= 100.0 && percent->number <= 200.0)
        settings.text_percent = static_cast<int>(percent->number);
    if (const auto* minutes = window->find("lock_minutes");
        minutes != nullptr && minutes->type == checklist::ItemType::Whole && minutes->number >= 0.0 && minutes->number <= 600.0)
        settings.lock_minutes = static_cast<int>(minutes->number);
    if (const auto* scale = window->find("px_per_mm");
        scale != nullptr && scale->number > 1.0 && scale->number < 40.0)
        settings.px_per_mm = static_cast<float>(scale->number);
    return settings;
}

void keep(const std::filesystem::path& data, const WindowSettings& settings) {
    std::string text = fmt::format("# Written by the window.\n[window]\nlook = \"{}\"\ntext_percent = {}\n",
                                   screens::in_words(settings.look), settings.text_percent);
    if (settings.sound == screens::Sound::Off) text += "sound = \"off\"\n";
    if (settings.picture_place == screens::PicturePlace::Kept) text += "picture_place = \"kept\"\n";
    if (!settings.photos.empty()) text += fmt::format("photos = {}\n", checklist::quoted(settings.photos));
    if (settings.lock_minutes != WindowSettings{}.lock_minutes) text += fmt::format("lock_minutes = {}\n", settings.lock_minutes);
    if (settings.px_per_mm)
        text += fmt::format("px_per_mm = {}\n", units::print_short(static_cast<double>(*settings.px_per_mm), 6));
    // The look of the window is not worth a message when the disk is full.
    if (const auto written = write_file(settings_file(data, "window.toml"), text); !written) return;
}

}  // namespace

bool stays_open_longer(int minutes, int than) { return than != 0 && (minutes == 0 || minutes > than); }

std::optional<screens::Look> look_named(std::string_view word) {
    for (const auto look : {screens::Look::Day, screens::Look::Night, screens::Look::Sun})
        if (screens::in_words(look) == word) return look;
    return std::nullopt;
}

WindowSettings read_window_settings(const std::filesystem::path& data) { return window_in(data); }

void keep_look(const std::filesystem::path& data, screens::Look look) {
    auto settings = window_in(data);
    settings.look = look;
    keep(data, settings);
}

void keep_text_size(const std::filesystem::path& data, int percent) {
    auto settings = window_in(data);
    settings.text_percent = percent;
    keep(data, settings);
}

void keep_sound(const std::filesystem::path& data, screens::Sound sound) {
    auto settings = window_in(data);
    settings.sound = sound;
    keep(data, settings);
}

void keep_picture_place(const std::filesystem::path& data, screens::PicturePlace place) {
    auto settings = window_in(data);
    settings.picture_place = place;
    keep(data, settings);
}

void keep_lock_minutes(const std::filesystem::path& data, int minutes) {
    auto settings = window_in(data);
    settings.lock_minutes = minutes;
    keep(data, settings);
}

void keep_scale(const std::filesystem::path& data, float px_per_mm) {
    auto settings = window_in(data);
    settings.px_per_mm = px_per_mm;
    keep(data, settings);
}

void keep_photo_folder(const std::filesystem::path& data, const std::string& folder) {
    auto settings = window_in(data);
    settings.photos = digest::is_utf8(folder) ? folder : std::string{};
    keep(data, settings);
}

desk::SettingsView settings_view(const desk::Desk& desk) {
    const auto& setup = desk.setup();
    const auto& company = desk.journal().keys().company();
    const auto waiting = exchange::not_exchanged(desk.journal());
    return {.company = setup.company,
            .company_contact = setup.company_contact,
            .fingerprint = company ? digest::root_fingerprint(*company) : "",
            .fingerprint_published = setup.fingerprint_published,
            .data_folder = setup.data.string(),
            .device = desk.journal().device(),
            .mail_server = mail_server_of(setup.data),
            .mail_from = setup.mail_from,
            .keys_sealed = desk.journal().keys().sealed_by_pin(),
            .not_exchanged = waiting ? desk::in_words(*waiting) : waiting.error().what};
}

std::string mail_server_of(const std::filesystem::path& data) {
    return word_at(table_in(settings_file(data, "settings.toml")), "mail", "server", "");
}

desk::Send sender_of(const std::filesystem::path& data) {
    const auto table = table_in(settings_file(data, "settings.toml"));
    post::MailServer server{.url = word_at(table, "mail", "server", ""),
                            .user = word_at(table, "mail", "user", ""),
                            .password = "",
                            .ca_file = word_at(table, "mail", "ca", "")};
    if (const auto file = word_at(table, "mail", "password_file", ""); !file.empty())
        if (const auto text = read_file(file)) server.password = text->substr(0, text->find_first_of("\r\n"));
    return [server](const std::string& from, const std::vector<std::string>& to, const std::string& message) {
        if (server.url.empty())
            return post::Attempt{post::PostState::CannotSend,
                                 "This device has no mail server yet: it is named in settings.toml, [mail] server = "
                                 "\"smtps://…\". Until then save the message as a file and send that."};
        return post::send_message(server, from, to, message);
    };
}

}  // namespace wm::app
