#include "handover/report_pages.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Ink;
using drawing::Weight;

std::string joined(const std::vector<std::string>& parts) {
    std::string text;
    for (const std::string& part : parts) {
        if (part.empty()) continue;
        if (!text.empty()) text += " · ";
        text += part;
    }
    return text;
}

std::string severity_in_words(const std::string& severity) {
    if (severity == "H") return "could hurt someone";
    if (severity == "D") return "could damage property";
    if (severity == "P") return "costs performance";
    if (severity == "R") return "paperwork";
    return severity;
}

CellLine plain(std::string words) {
    return {std::move(words), {letters::table, Weight::Regular, Ink::Text, Anchor::Start}};
}

CellLine bold(std::string words) {
    return {std::move(words), {letters::table, Weight::Bold, Ink::Text, Anchor::Start}};
}

CellLine faint(std::string words) {
    return {std::move(words), {letters::small, Weight::Regular, Ink::Faint, Anchor::Start}};
}

}  // namespace wm::handover
