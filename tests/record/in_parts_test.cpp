#include "record/in_parts.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <new>
#include <vector>

namespace wm::record {

TEST_CASE("every number is worked on once, however many there are") {
    for (const std::size_t count : {0U, 1U, 2U, 255U, 256U, 511U, 512U, 513U, 2048U, 5000U}) {
        CAPTURE(count);
        std::vector<int> times(count);
        std::atomic<std::size_t> all = 0;
        in_parts(count, [&](std::size_t first, std::size_t end) {
            for (std::size_t i = first; i < end; ++i) ++times[i];
            all += end - first;
        });
        CHECK(all == count);
        for (const int each : times) CHECK(each == 1);
    }
}

TEST_CASE("what one part throws is thrown on by whoever asked, when all have ended") {
    constexpr std::size_t count = 5000;
    for (const std::size_t where : {std::size_t{0}, count / 2, count - 1}) {
        CAPTURE(where);
        std::atomic<std::size_t> all = 0;
        const auto work = [&](std::size_t first, std::size_t end) {
            if (where >= first && where < end) throw std::bad_alloc{};
            all += end - first;
        };
        CHECK_THROWS_AS(in_parts(count, work), std::bad_alloc);
        CHECK(all < count);
    }
}

}  // namespace wm::record
