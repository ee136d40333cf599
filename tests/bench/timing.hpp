// Times of repeated work, as one JSON line per figure for tests/bench/table.py.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <string>
#include <vector>

namespace wm::bench {

/// Runs `work` until `runs` times or `seconds` are over, whichever comes first; nanoseconds of each.
template <class Work>
std::vector<double> times_of(int runs, double seconds, Work&& work) {
    using Clock = std::chrono::steady_clock;
    std::vector<double> times;
    const auto end = Clock::now() + std::chrono::duration<double>(seconds);
    while (static_cast<int>(times.size()) < runs && (times.empty() || Clock::now() < end)) {
        const auto before = Clock::now();
        work();
        times.push_back(std::chrono::duration<double, std::nano>(Clock::now() - before).count());
    }
    return times;
}

/// Median and 99th percentile, printed; `each` is how many things one run did.
inline void tell(const std::string& what, std::vector<double> times, double each = 1.0) {
    std::sort(times.begin(), times.end());
    const auto at = [&](double share) {
        return times[static_cast<std::size_t>(share * static_cast<double>(times.size() - 1))] / each;
    };
    fmt::print("{{\"what\":\"{}\",\"median_ns\":{:.1f},\"p99_ns\":{:.1f},\"runs\":{}}}\n", what, at(0.5), at(0.99),
               times.size());
    std::fflush(stdout);
}

/// Keeps the compiler from leaving out work nobody looks at.
template <class T>
void keep(const T& value) {
    asm volatile("" : : "r"(&value) : "memory");
}

}  // namespace wm::bench
