// Independent work on all cores of the machine.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <future>
#include <system_error>
#include <thread>
#include <type_traits>
#include <vector>

namespace wm::audit {

/// Whether work is spread: a thread costs some ten microseconds, which little work does not bring in again.
enum class Spread { No, Yes };

/// The work on another core; its get() waits for it and throws what it threw. It is done at get() where it is not spread, or
/// where no thread is to be had. Whatever the work refers to must outlive the future.
template <typename Work>
[[nodiscard]] std::future<std::invoke_result_t<Work>> beside(Spread spread, Work work) {
    if (spread == Spread::Yes) {
        try {
            return std::async(std::launch::async, work);
        } catch (const std::system_error&) {
            // no thread: below
        }
    }
    return std::async(std::launch::deferred, work);
}

/// Calls `work` once with each number below `count`, in no order, several at once. What one of them throws is thrown here, after
/// all have ended.
template <typename Work>
void at_once(Spread spread, std::size_t count, const Work& work) {
    std::atomic<std::size_t> next{0};
    const auto one_after_another = [&] {
        for (std::size_t i = next++; i < count; i = next++) work(i);
    };
    const std::size_t hands = spread == Spread::No ? 1 : std::min<std::size_t>(std::max(1U, std::thread::hardware_concurrency()), count);
    std::vector<std::future<void>> others;
    for (std::size_t hand = 1; hand < hands; ++hand) others.push_back(beside(spread, one_after_another));
    one_after_another();
    for (auto& other : others) other.get();
}

}  // namespace wm::audit
