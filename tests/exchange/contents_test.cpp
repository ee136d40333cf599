#include "exchange/contents.hpp"

#include <doctest/doctest.h>

#include "store/testing.hpp"

using namespace wm::exchange;

TEST_CASE("customer keys open with their passphrase and no other") {
    const CustomerKeys keys{{"c1", std::string(32, 'a')}, {"c2", std::string(32, 'b')}};
    const auto locked =
        locked_keys(keys, "four words of ours", wm::store::testing::counted_bytes("x")).value();
    CHECK(unlocked_keys(locked, "four words of ours", "test").value() == keys);
    CHECK_FALSE(unlocked_keys(locked, "four words of yours", "test"));
    CHECK(locked.box.find(std::string(32, 'a')) == std::string::npos);
}

TEST_CASE("contents without a chain are packed and read back") {
    const auto key = wm::digest::device_key(std::string(32, 'k')).value();
    Contents contents;
    contents.maker = wm::digest::device_id(key.public_key);
    contents.words = {{std::string(64, 'a'), "c1", "box"}};
    const auto parts = parts_of(contents, key).value();
    CHECK(parts[0].name == "manifest.json");
    const auto again = contents_of(packed(parts).value(), "test").value();
    CHECK(again.maker == contents.maker);
    REQUIRE(again.words.size() == 1);
    CHECK(again.words[0].box == "box");
}

TEST_CASE("a list signed by another device than it names is refused") {
    const auto key = wm::digest::device_key(std::string(32, 'k')).value();
    const auto other = wm::digest::device_key(std::string(32, 'l')).value();
    Contents contents;
    contents.maker = wm::digest::device_id(key.public_key);
    const auto read = contents_of(packed(parts_of(contents, other).value()).value(), "b.bundle");
    REQUIRE_FALSE(read);
    CHECK(read.error() ==
          wm::Problem{"The signature of the bundle does not fit.", "b.bundle",
                      "Nothing was taken. Have the bundle made and carried over again.",
                      wm::ProblemKind::Refused});
}
