// What went wrong in the world, in the reader's words.
#pragma once

#include <string>

namespace wm {

/// Decides the exit code of the command line: 1, 2, 3 and 4 in this order.
enum class ProblemKind { Refused, WrongUse, Unreadable, NotStored };

/// A failure that a person can act on. All three texts are full sentences or places, never empty.
struct Problem {
    std::string what;
    std::string where;
    std::string what_to_do;
    ProblemKind kind = ProblemKind::Unreadable;

    friend bool operator==(const Problem&, const Problem&) = default;
};

/// "what (where). what_to_do" on up to three lines, for stderr and logs.
[[nodiscard]] inline std::string told(const Problem& problem) {
    return problem.where + ": " + problem.what + "\n" + problem.what_to_do;
}

}  // namespace wm
