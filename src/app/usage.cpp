#include "app/usage.hpp"

#include <algorithm>
#include <cctype>

namespace wm::app {

namespace {

std::vector<std::string> parted(std::string_view text, std::string_view by) {
    std::vector<std::string> parts;
    for (std::size_t from = 0; from <= text.size();) {
        const auto at = std::min(text.find(by, from), text.size());
        parts.emplace_back(text.substr(from, at - from));
        from = at + by.size();
    }
    return parts;
}

/// Blanks part words, except between quotation marks.
std::vector<std::string> words_of(std::string_view line) {
    std::vector<std::string> words(1);
    bool quoted = false;
    for (const char c : line) {
        if (c == '"') quoted = !quoted;
        if (c == ' ' && !quoted) words.emplace_back();
        else if (c != '[' && c != ']') words.back() += c;
    }
    std::erase(words, "");
    return words;
}

std::vector<std::string> lines_of(const Command& command) {
    std::vector<std::string> lines;
    for (const auto& line : parted(command.usage, "\n")) {
        if (line.starts_with(' ') && !lines.empty()) lines.back() += line;
        else if (!line.empty()) lines.push_back(line);
    }
    std::vector<std::string> forms;
    for (const auto& line : lines)
        for (const auto& form : parted(line, " | ")) forms.push_back(form);
    return forms;
}

bool is_second_word(std::string_view word) {
    return std::islower(static_cast<unsigned char>(word.front())) != 0 &&
           std::all_of(word.begin(), word.end(),
                       [](unsigned char c) { return std::islower(c) != 0 || c == '-' || c == '|'; });
}

/// The option a part of a word names: "--no-facts" in "FILE.toml|--no-facts".
const Option* option_in(std::string_view part) {
    return part.starts_with("--") ? option_named(part.substr(2)) : nullptr;
}

Usage& usage_with(std::vector<Usage>& all, const std::string& verb) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const Usage& usage) { return usage.verb == verb; });
    return found != all.end() ? *found : all.emplace_back(Usage{verb, {}, {}});
}

}  // namespace

std::vector<Usage> usages_of(const Command& command) {
    std::vector<Usage> all;
    for (const auto& line : lines_of(command)) {
        auto words = words_of(line);
        std::erase_if(words, [&](const std::string& word) { return word == "witnessmark" || word == command.form; });
        std::vector<std::string> verbs{""};
        if (!words.empty() && is_second_word(words.front())) {
            verbs = parted(words.front(), "|");
            words.erase(words.begin());
        }
        std::vector<std::string> values;
        std::vector<const Option*> options;
        bool is_value_of_option = false;
        for (const auto& word : words) {
            bool wants_value = false;
            bool names_option = false;
            for (const auto& part : parted(word, "|"))
                if (const auto* option = option_in(part)) {
                    names_option = true;
                    wants_value = option->takes_value();
                    options.push_back(option);
                }
            if (!names_option && !is_value_of_option) values.push_back(word);
            // "--facts FILE.toml|--no-facts": the value ends there, and --no-facts takes none.
            is_value_of_option = wants_value;
        }
        for (const auto& verb : verbs) {
            auto& usage = usage_with(all, verb);
            if (usage.values.size() < values.size()) usage.values = values;
            for (const auto* option : options)
                if (std::find(usage.options.begin(), usage.options.end(), option) == usage.options.end())
                    usage.options.push_back(option);
        }
    }
    return all;
}

std::vector<const Option*> options_of(const Command& command) {
    const auto usages = usages_of(command);
    std::vector<const Option*> named;
    for (const auto& option : option_table())
        if (std::any_of(usages.begin(), usages.end(), [&](const Usage& usage) {
                return std::find(usage.options.begin(), usage.options.end(), &option) != usage.options.end();
            }))
            named.push_back(&option);
    return named;
}

std::vector<const Option*> options_of_all_forms() {
    std::vector<const Option*> options;
    for (const auto* name : {"data", "at", "json", "help", "person", "pin-file"}) options.push_back(option_named(name));
    return options;
}

Value offered_for(std::string_view value) {
    if (value.starts_with("JOB")) return Value::Job;
    if (value.starts_with("CHECK")) return Value::Check;
    if (value.starts_with("FILE")) return Value::File;
    if (value.starts_with("DIR")) return Value::Folder;
    return Value::Text;
}

}  // namespace wm::app
