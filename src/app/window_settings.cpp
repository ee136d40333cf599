#include "app/window_settings.hpp"


#include <sstream>

#include "app/toml_text.hpp"
#include "app/world.hpp"

namespace wm::app {

namespace {

toml::table settings_of(const std::filesystem::path& data) {
    const auto text = read_file(data / "settings.toml");
    if (!text) return {};
    auto table = read_toml(*text, "settings.toml");
    return table ? std::move(*table) : toml::table{};
}

template <class T>
void keep(const std::filesystem::path& data, std::string_view key, T value) {
    // A file that cannot be read is left for its owner to mend.
    const auto text = read_file(data / "settings.toml");
    toml::table table;
    if (text) {
        auto read = read_toml(*text, "settings.toml");
        if (!read) return;
        table = std::move(*read);
    }
    if (table["window"].as_table() == nullptr) table.insert_or_assign("window", toml::table{});
    table["window"].as_table()->insert_or_assign(key, value);
    std::ostringstream out;
    out << table << "\n";
    // The look of the window is not worth a message when the disk is full.
    if (const auto written = write_file(data / "settings.toml", out.str()); !written) return;
}

}  // namespace

std::optional<screens::Look> look_named(std::string_view word) {
    for (const auto look : {screens::Look::Day, screens::Look::Night, screens::Look::Sun})
        if (screens::in_words(look) == word) return look;
    return std::nullopt;
}

WindowSettings read_window_settings(const std::filesystem::path& data) {
    const auto table = settings_of(data);
    WindowSettings settings;
    settings.look = look_named(table["window"]["look"].value_or(std::string{"day"})).value_or(screens::Look::Day);
    const auto percent = table["window"]["text_percent"].value_or<std::int64_t>(100);
    settings.text_percent = percent >= 100 && percent <= 200 ? static_cast<int>(percent) : 100;
    if (const auto scale = table["window"]["px_per_mm"].value<double>(); scale && *scale > 1.0 && *scale < 40.0)
        settings.px_per_mm = static_cast<float>(*scale);
    return settings;
}

void keep_look(const std::filesystem::path& data, screens::Look look) {
    keep(data, "look", std::string{screens::in_words(look)});
}

void keep_text_size(const std::filesystem::path& data, int percent) { keep(data, "text_percent", percent); }

void keep_scale(const std::filesystem::path& data, float px_per_mm) {
    keep(data, "px_per_mm", static_cast<double>(px_per_mm));
}

std::string mail_server_of(const std::filesystem::path& data) {
    return settings_of(data)["mail"]["server"].value_or(std::string{});
}

desk::Send sender_of(const std::filesystem::path& data) {
    const auto table = settings_of(data);
    post::MailServer server{.url = table["mail"]["server"].value_or(std::string{}),
                            .user = table["mail"]["user"].value_or(std::string{}),
                            .password = "",
                            .ca_file = table["mail"]["ca"].value_or(std::string{})};
    if (const auto file = table["mail"]["password_file"].value_or(std::string{}); !file.empty())
        if (const auto text = read_file(file)) server.password = text->substr(0, text->find_first_of("\r\n"));
    return [server](const std::string& from, const std::vector<std::string>& to, const std::string& message) {
        if (server.url.empty())
            return post::Attempt{post::PostState::CannotSend,
                                 "No mail server is set. Name one in settings.toml ([mail] server = \"smtps://…\"), or "
                                 "save the message as a file."};
        return post::send_message(server, from, to, message);
    };
}

}  // namespace wm::app
