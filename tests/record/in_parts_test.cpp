#include "record/in_parts.hpp"

#include <doctest/doctest.h>

#include <atomic>
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

}  // namespace wm::record
