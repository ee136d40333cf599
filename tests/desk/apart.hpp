// A try in a process of its own, which has all that stands open here for nothing.
#pragma once

#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

namespace wm::desk::testing {

/// What the attempt gives back, asked for in a fork of this process; the words of what went wrong where it did not end well.
/// Both are JSON: whatever nlohmann can turn into it and back.
template <typename Attempt>
nlohmann::json tried_apart(const Attempt& attempt) {
    int ends[2];
    REQUIRE(pipe(ends) == 0);
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        const nlohmann::json said = attempt();
        const std::string text = said.dump();
        for (std::size_t at = 0; at < text.size();) {
            const auto wrote = write(ends[1], text.data() + at, text.size() - at);
            if (wrote <= 0) break;
            at += static_cast<std::size_t>(wrote);
        }
        _exit(0);
    }
    close(ends[1]);
    std::string text;
    char piece[4096];
    for (ssize_t got = 0; (got = read(ends[0], piece, sizeof piece)) > 0;) text.append(piece, static_cast<std::size_t>(got));
    close(ends[0]);
    int status = 0;
    waitpid(child, &status, 0);
    auto said = nlohmann::json::parse(text, nullptr, false);
    if (status != 0 || !said.is_array()) return "the process ended with " + std::to_string(status);
    return said;
}

/// Whether an operation takes part: WM_OPERATION leaves those whose name holds its word.
inline bool takes_part(std::string_view name) {
    const char* word = std::getenv("WM_OPERATION");
    return word == nullptr || name.find(word) != std::string_view::npos;
}

}  // namespace wm::desk::testing
