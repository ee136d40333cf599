#include "record/entry.hpp"

namespace wm::record {

std::string shown(const Personal& words) {
    return words.text.value_or("(erased)");
}

std::string shown(const Words& words) {
    const auto* text = std::get_if<std::string>(&words);
    return text != nullptr ? *text : shown(std::get<Personal>(words));
}

}  // namespace wm::record
