#include "handover/text_lines.hpp"

#include <fmt/format.h>

#include <chrono>

namespace wm::handover {

namespace {

constexpr std::size_t most_octets = 75;

}  // namespace

void add_line(std::string& file, std::string_view line) {
    std::size_t room = most_octets;
    while (line.size() > room) {
        std::size_t cut = room;
        while (cut > 1 && (static_cast<unsigned char>(line[cut]) & 0xc0u) == 0x80u) --cut;
        file += line.substr(0, cut);
        file += "\r\n ";
        line.remove_prefix(cut);
        room = most_octets - 1;  // the space that marks the fold counts
    }
    file += line;
    file += "\r\n";
}

std::string escaped(std::string_view text) {
    std::string safe;
    for (const char c : text) {
        if (c == '\n') {
            safe += "\\n";
        } else if (c == '\\' || c == ';' || c == ',') {
            safe += '\\';
            safe += c;
        } else if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f) {
            safe += c;
        }
    }
    return safe;
}

std::string uid_part(std::string_view text) {
    std::string safe;
    for (const char c : text) {
        const bool plain =
            (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
        safe += plain ? std::string{c} : fmt::format("_{:02x}", static_cast<unsigned char>(c));
    }
    return safe;
}

std::string utc_stamp(const Moment& m) {
    using namespace std::chrono;
    const sys_seconds local = sys_days{year{m.year} / m.month / m.day} + hours{m.hour} +
                              minutes{m.minute} + seconds{m.second};
    const sys_seconds utc = local - minutes{m.zone_minutes};
    const auto date = floor<days>(utc);
    const hh_mm_ss time{utc - date};
    const year_month_day day{date};
    return fmt::format("{:04}{:02}{:02}T{:02}{:02}{:02}Z", static_cast<int>(day.year()),
                       static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()),
                       time.hours().count(),
                       time.minutes().count(), time.seconds().count());
}

}  // namespace wm::handover
