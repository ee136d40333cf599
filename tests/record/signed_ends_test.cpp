#include "record/signed_ends.hpp"

#include <doctest/doctest.h>

#include "record/testing.hpp"

using namespace wm::record;
using namespace wm::record::testing;

namespace {

Device busy_device(char name) {
    Device device{name};
    for (int i = 0; i < 5; ++i) device.write("J-1", reading("c" + std::to_string(i), "", Outcome::Conforms));
    return device;
}

}  // namespace

TEST_CASE("an end of a chain without a genuine head is signed by nobody, and a head signs all before it") {
    const Device device = busy_device('a'), other = busy_device('b');
    const std::vector<Written> all = device.all();
    const SignedHead head = signed_head(device.head(), device.key());
    CHECK(signed_by_nobody(all, std::vector{head}).empty());
    CHECK(signed_by_nobody(all, {}) == std::vector<Head>{device.head()});
    // Another device's signature, and one of an earlier end, are none.
    const Head earlier{all[2].entry.device, all[2].entry.seq, all[2].hash};
    for (const SignedHead& wrong : {signed_head(other.head(), other.key()), signed_head(device.head(), other.key()),
                                    signed_head(earlier, device.key())})
        CHECK(signed_by_nobody(all, std::vector{wrong}) == std::vector<Head>{device.head()});
    CHECK(signed_by_nobody(std::span{all}.first(3), std::vector{signed_head(earlier, device.key())}).empty());
}
