#include "app/arguments.hpp"

#include <fmt/format.h>

#include "app/options.hpp"

namespace wm::app {

bool Arguments::has(std::string_view option) const { return options.find(option) != options.end(); }

std::string Arguments::value(std::string_view option, std::string_view otherwise) const {
    const auto found = options.find(option);
    return found == options.end() ? std::string{otherwise} : found->second;
}

std::vector<std::string> Arguments::values(std::string_view option) const {
    std::vector<std::string> all;
    const auto [first, last] = options.equal_range(option);
    for (auto at = first; at != last; ++at) all.push_back(at->second);
    return all;
}

Result<std::string> Arguments::word(std::size_t n, std::string_view meaning) const {
    if (n < words.size()) return words[n];
    const std::string form = words.empty() ? "witnessmark" : "witnessmark " + words.front();
    return refused({fmt::format("{} is missing.", meaning), form,
                    fmt::format("See {} --help for its form.", form), ProblemKind::WrongUse});
}

Result<Arguments> sort_arguments(const std::vector<std::string>& words) {
    Arguments sorted;
    bool options_ended = false;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (options_ended || !word.starts_with("--")) {
            sorted.words.push_back(word);
            continue;
        }
        if (word == "--") {
            options_ended = true;
            continue;
        }
        const auto equals = word.find('=');
        const std::string name = word.substr(2, equals == std::string::npos ? equals : equals - 2);
        const auto* option = option_named(name);
        if (option == nullptr)
            return refused({fmt::format("There is no option --{}.", name), "the command line",
                            "See witnessmark --help for the options.", ProblemKind::WrongUse});
        if (!option->takes_value()) {
            sorted.options.emplace(name, "");
        } else if (equals != std::string::npos) {
            sorted.options.emplace(name, word.substr(equals + 1));
        } else if (i + 1 < words.size()) {
            sorted.options.emplace(name, words[++i]);
        } else {
            return refused({fmt::format("--{} wants a value: {}.", name, option->meaning),
                            "the command line", fmt::format("Write --{} VALUE.", name),
                            ProblemKind::WrongUse});
        }
    }
    return sorted;
}

}  // namespace wm::app
