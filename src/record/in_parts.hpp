// Work on the parts of a range at once, on as many threads as there are cores.
#pragma once

#include <algorithm>
#include <cstddef>
#include <exception>
#include <system_error>
#include <thread>
#include <vector>

namespace wm::record {

/// Calls `work(first, end)` for parts that make up 0 to `count`, each on a thread of its own, and comes back when all are
/// done. The parts share nothing that is written: each writes only what belongs to its own numbers, so that the outcome is
/// the same however many there are. Few numbers are done by the caller alone. What a part throws (there is no memory left)
/// is thrown on once all have ended.
template <class Work>
void in_parts(std::size_t count, Work&& work) {
    constexpr std::size_t worth_a_thread = 256;
    const std::size_t cores = std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, 8);
    const std::size_t parts = std::clamp<std::size_t>(count / worth_a_thread, 1, cores);
    std::vector<std::exception_ptr> thrown(parts);
    std::vector<std::jthread> others;
    others.reserve(parts);
    for (std::size_t part = 1; part < parts; ++part) {
        const auto one = [&work, &thrown, part, first = count * part / parts, end = count * (part + 1) / parts]() noexcept {
            try {
                work(first, end);
            } catch (...) {
                thrown[part] = std::current_exception();
            }
        };
        try {
            others.emplace_back(one);
        } catch (const std::system_error&) {
            one();  // no thread is to be had
        }
    }
    work(std::size_t{0}, count / parts);
    others.clear();  // waits for them
    for (const auto& each : thrown)
        if (each) std::rethrow_exception(each);
}

}  // namespace wm::record
