// When a message is tried again, and what each answer of a mail server means.
#pragma once

#include <cstdint>
#include <string>

namespace wm::post {

/// Waiting: will be tried again by itself. Refused: the server said no for good. CannotSend: a
/// person must do something first (password, certificate, address).
enum class PostState { Waiting, Sent, Refused, CannotSend };

/// "waiting", "sent", "refused", "cannot send": the words of the command line.
[[nodiscard]] std::string in_words(PostState state);

/// What one try came to.
struct Attempt {
    PostState state = PostState::Waiting;
    std::string answer;  ///< a sentence with the server's own words at the end
};

/// Seconds to wait after the n-th try that failed for now (n from 1): 1, 2, 4 … minutes, at most
/// 4 hours, spread by up to a tenth with `draw` in [0, 1) so that many tablets do not knock at once.
[[nodiscard]] std::int64_t wait_after(int tries, double draw);

}  // namespace wm::post
