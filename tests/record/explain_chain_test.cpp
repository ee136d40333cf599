#include <doctest/doctest.h>

#include "record/chain.hpp"
#include "record/testing.hpp"

using namespace wm::record;
using namespace wm::record::testing;

TEST_CASE("the explanation names the file, the head and the key") {
    const Device device{'a'};
    const std::string text = explain_chain(signed_head(device.head(), device.key()), "chain.txt");
    for (const std::string& part : {std::string{"done < chain.txt"}, device.head().hash,
                                    device.head().device, std::string{"BEGIN PUBLIC KEY"}}) {
        CHECK(text.find(part) != std::string::npos);
    }
}
