#include "handover/contact_card.hpp"

#include <algorithm>

#include "handover/text_lines.hpp"

namespace wm::handover {

std::string telephone_in(const std::string& text) {
    constexpr std::string_view between = " -/()";
    const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
    for (std::size_t from = 0; from < text.size(); ++from) {
        if (!is_digit(text[from]) && text[from] != '+') continue;
        std::size_t end = from + 1;
        while (end < text.size() &&
               (is_digit(text[end]) || between.find(text[end]) != std::string_view::npos)) {
            ++end;
        }
        while (end > from && !is_digit(text[end - 1])) --end;
        const std::string found = text.substr(from, end - from);
        if (std::count_if(found.begin(), found.end(), is_digit) >= 5) return found;
        from = end;
    }
    return {};
}

std::string contact_card(const ContactCard& card) {
    std::string file;
    add_line(file, "BEGIN:VCARD");
    add_line(file, "VERSION:3.0");
    add_line(file, "PRODID:-//Witnessmark//Contact//EN");
    add_line(file, "N:" + escaped(card.company) + ";;;;");
    add_line(file, "FN:" + escaped(card.company));
    add_line(file, "ORG:" + escaped(card.company));
    if (const auto number = telephone_in(card.contact); !number.empty()) {
        add_line(file, "TEL;TYPE=WORK,VOICE:" + escaped(number));
    }
    if (!card.email.empty()) add_line(file, "EMAIL;TYPE=INTERNET:" + escaped(card.email));
    add_line(file, "NOTE:" + escaped(card.language.text("Solar water heater.") + " " + card.contact));
    add_line(file, "UID:" + uid_part(card.id) + "@witnessmark");
    add_line(file, "REV:" + utc_stamp(card.written));
    add_line(file, "END:VCARD");
    return file;
}

}  // namespace wm::handover
