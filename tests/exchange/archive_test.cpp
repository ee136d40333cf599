#include "exchange/archive.hpp"

#include <doctest/doctest.h>

using namespace wm::exchange;

TEST_CASE("parts come back in order, empty ones too, and make the same bytes again") {
    const std::vector<Part> parts{
        {"manifest.json", "{}"}, {"words.txt", ""}, {"files/a", std::string(70000, '\xff')}};
    const std::string bytes = packed(parts).value();
    CHECK(packed(parts).value() == bytes);
    const auto again = unpacked(bytes, "test").value();
    REQUIRE(again.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(again[i].name == parts[i].name);
        CHECK(again[i].bytes == parts[i].bytes);
    }
}

TEST_CASE("what is no plain tar is refused in words") {
    const std::string good = packed({{"a", std::string(5000, 'x')}}).value();
    for (const std::string& bad : {std::string{}, std::string{"no tar"}, good.substr(0, 3000),
                                   std::string(10240, '\0'), std::string("\x1f\x8b\x08", 3)}) {
        const auto parts = unpacked(bad, "b.bundle");
        REQUIRE_FALSE(parts);
        CHECK(parts.error().where == "b.bundle");
    }
}

TEST_CASE("a name that stands twice is refused") {
    CHECK_FALSE(unpacked(packed({{"a", "1"}, {"a", "2"}}).value(), "test"));
}
