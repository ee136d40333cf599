#include "post/address.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace wm::post {

Result<std::string> read_address(std::string_view text, std::string_view where) {
    const auto bad = [&](std::string_view why) {
        return refused({fmt::format("\"{}\" is not a mail address: {}.", header_text(text), why),
                        std::string{where}, "Write it as name@place, for example resident@example.org.",
                        ProblemKind::Unreadable});
    };
    const auto at = text.find('@');
    if (at == std::string_view::npos) return bad("it has no @");
    if (text.find('@', at + 1) != std::string_view::npos) return bad("it has more than one @");
    if (at == 0 || at + 1 == text.size()) return bad("something is missing beside the @");
    if (text.size() > 254) return bad("it is longer than 254 bytes");
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte <= 0x20 || byte == 0x7F || std::string_view{",;<>\"()[]\\:"}.find(c) != std::string_view::npos)
            return bad("it holds a blank or a character that addresses do not have");
    }
    return std::string{text};
}

std::string header_text(std::string_view text) {
    std::string clean;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        const bool blank = byte <= 0x20 || byte == 0x7F;
        if (!blank) clean += c;
        else if (!clean.empty() && clean.back() != ' ') clean += ' ';
    }
    if (!clean.empty() && clean.back() == ' ') clean.pop_back();
    return clean;
}

std::string file_name(std::string_view text) {
    std::string clean;
    for (const char c : text) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                           c == '.' || c == '-' || c == '_';
        clean += plain ? c : '-';
    }
    while (clean.starts_with('.')) clean.erase(0, 1);
    return clean.empty() ? "file" : clean.substr(0, 100);
}

}  // namespace wm::post
