#include "app/output.hpp"

#include <nlohmann/json.hpp>

#include "digest/text.hpp"

namespace wm::app {

int exit_code(ProblemKind kind) {
    switch (kind) {
        case ProblemKind::Refused: return 1;
        case ProblemKind::WrongUse: return 2;
        case ProblemKind::Unreadable: return 3;
        case ProblemKind::NotStored: return 4;
    }
    return 3;
}

namespace {

// A broken file is quoted in words about it; its bytes must not steer the terminal.
std::string for_a_terminal(std::string text) {
    const bool utf8 = digest::is_utf8(text);
    for (char& c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if ((byte < 0x20 && c != '\n' && c != '\t') || byte == 0x7F || (!utf8 && byte >= 0x80)) c = '?';
    }
    return text;
}

}  // namespace

Output told_as(const Problem& problem, Form form) {
    Output output{"", for_a_terminal(told(problem)) + "\n", exit_code(problem.kind)};
    if (form == Form::Json) {
        nlohmann::ordered_json document;
        document["problem"] = {{"what", problem.what},
                               {"where", problem.where},
                               {"what_to_do", problem.what_to_do}};
        output.data = document.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
    }
    return output;
}

}  // namespace wm::app
