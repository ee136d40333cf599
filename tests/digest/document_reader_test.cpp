#include <doctest/doctest.h>

#include <cstdint>

#include "digest/document.hpp"

using namespace wm::digest;

TEST_CASE("every text of few characters is refused in words or reads back the same") {
    // All strings up to length 4 over the signs that steer the reader.
    constexpr std::string_view signs = "{}[]\",:\\10-u n";
    std::vector<std::string> texts{""};
    std::size_t readable = 0;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const std::string text = texts[i];
        if (text.size() < 4) {
            for (const char sign : signs) texts.push_back(text + sign);
        }
        const auto document = read_document(text, "test");
        if (!document) {
            CHECK_FALSE(document.error().what.empty());
            continue;
        }
        ++readable;
        const std::string canonical = canonical_text(*document).value();
        const auto again = read_canonical(canonical, "test");
        REQUIRE(again);
        CHECK(*again == *document);
    }
    CHECK(readable > 50);
}

TEST_CASE("one changed byte of a canonical line is refused or changes the value") {
    const std::string line = R"({"body":{"check":"anchor-torque","n":17},"seq":4,"t":"é"})";
    const auto document = read_canonical(line, "test");
    REQUIRE(document);
    for (std::size_t i = 0; i < line.size(); ++i) {
        for (int bit = 0; bit < 8; ++bit) {
            std::string other = line;
            other[i] = static_cast<char>(static_cast<unsigned char>(other[i]) ^ (1U << bit));
            const auto changed = read_canonical(other, "test");
            if (changed) CHECK_FALSE(*changed == *document);
        }
    }
}
