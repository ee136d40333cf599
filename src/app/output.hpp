// What a command gives back: data for stdout, talk for stderr, an exit code.
#pragma once

#include <string>

#include "problem/problem.hpp"

namespace wm::app {

/// 0 done, 1 the answer is no, 2 wrong use, 3 cannot be read, 4 cannot store or send.
struct Output {
    std::string data;
    std::string talk;
    int code = 0;
};

[[nodiscard]] int exit_code(ProblemKind kind);

enum class Form { Text, Json };

/// The problem on stderr, and with Json also as a document on stdout.
[[nodiscard]] Output told_as(const Problem& problem, Form form);

}  // namespace wm::app
