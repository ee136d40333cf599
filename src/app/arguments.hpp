// The words of the command line, sorted into a form, its values and its options.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"

namespace wm::app {

/// Options may stand before or after the form; "--" ends them. An option that takes a value takes
/// the next word or what follows "=".
struct Arguments {
    std::vector<std::string> words;  ///< form first: "enter", "J-1", "anchor-torque", "20 N·m"
    std::multimap<std::string, std::string, std::less<>> options;  ///< without the dashes; flags map to ""

    [[nodiscard]] bool has(std::string_view option) const;
    [[nodiscard]] std::string value(std::string_view option, std::string_view otherwise = "") const;
    [[nodiscard]] std::vector<std::string> values(std::string_view option) const;
    /// The n-th word after the form, or a WrongUse problem that says what is missing.
    [[nodiscard]] Result<std::string> word(std::size_t n, std::string_view meaning) const;
};

/// Refuses an unknown option and one without its value. Kind is WrongUse.
[[nodiscard]] Result<Arguments> sort_arguments(const std::vector<std::string>& words);

}  // namespace wm::app
