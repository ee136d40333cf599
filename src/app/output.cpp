#include "app/output.hpp"

#include <nlohmann/json.hpp>

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

Output told_as(const Problem& problem, Form form) {
    Output output{"", told(problem) + "\n", exit_code(problem.kind)};
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
