#include "post/retry.hpp"

#include <algorithm>

namespace wm::post {

std::string in_words(PostState state) {
    switch (state) {
        case PostState::Waiting: return "waiting";
        case PostState::Sent: return "sent";
        case PostState::Refused: return "refused";
        case PostState::CannotSend: return "cannot send";
    }
    return "waiting";
}

std::int64_t wait_after(int tries, double draw) {
    constexpr std::int64_t ceiling = 4 * 3600;
    const int doublings = std::clamp(tries - 1, 0, 8);
    const std::int64_t wait = std::min<std::int64_t>(ceiling, 60LL << doublings);
    return wait + static_cast<std::int64_t>(static_cast<double>(wait) * 0.1 * std::clamp(draw, 0.0, 1.0));
}

}  // namespace wm::post
