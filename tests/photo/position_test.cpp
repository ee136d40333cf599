#include "photo/position.hpp"

#include <doctest/doctest.h>

#include <array>

#include "photo/testing.hpp"

using namespace wm::photo;

namespace {

std::string u16(unsigned value) { return {static_cast<char>(value >> 8), static_cast<char>(value & 0xffu)}; }
std::string u32(unsigned value) { return u16(value >> 16) + u16(value & 0xffffu); }

struct Fraction {
    unsigned over = 0, under = 1;
};
using Angle = std::array<Fraction, 3>;

std::string letter(unsigned tag, char side) { return u16(tag) + u16(2) + u32(2) + std::string{side, '\0', '\0', '\0'}; }
std::string angle(unsigned tag, unsigned at) { return u16(tag) + u16(5) + u32(3) + u32(at); }
std::string fractions(const Angle& three) {
    std::string bytes;
    for (const auto& [over, under] : three) bytes += u32(over) + u32(under);
    return bytes;
}

/// A JPEG with the GPS part of CIPA DC-008: tags 1 to 4, behind a first part that only points to it.
std::string taken_at(char north, const Angle& latitude, char east, const Angle& longitude) {
    std::string tiff = std::string{"MM\0\x2a", 4} + u32(8);
    tiff += u16(1) + u16(0x8825) + u16(4) + u32(1) + u32(26) + u32(0);
    tiff += u16(4) + letter(1, north) + angle(2, 80) + letter(3, east) + angle(4, 104) + u32(0);
    tiff += fractions(latitude) + fractions(longitude);
    const std::string body = std::string{"Exif\0\0", 6} + tiff;
    const std::string jpeg = testing::jpeg_scene(16, 16, 1);
    return jpeg.substr(0, 2) + "\xff\xe1" + u16(static_cast<unsigned>(body.size() + 2)) + body + jpeg.substr(2);
}

}  // namespace

TEST_CASE("the place of a picture is read as its camera wrote it") {
    // CIPA DC-008 (2012), 4.6.6: degrees, minutes, seconds as dd/1,mm/1,ss/1, or dd/1,mmmm/100,0/1 with parts of a minute.
    const auto whole = position_of(taken_at('N', {{{29, 1}, {24, 1}, {18, 1}}}, 'E', {{{83, 1}, {6, 1}, {0, 1}}}));
    REQUIRE(whole);
    CHECK(whole->latitude == doctest::Approx(29.405).epsilon(1e-12));
    CHECK(whole->longitude == doctest::Approx(83.1).epsilon(1e-12));
    const auto parts = position_of(taken_at('S', {{{29, 1}, {2430, 100}, {0, 1}}}, 'W', {{{83, 1}, {600, 100}, {0, 1}}}));
    REQUIRE(parts);
    CHECK(parts->latitude == doctest::Approx(-29.405).epsilon(1e-12));
    CHECK(parts->longitude == doctest::Approx(-83.1).epsilon(1e-12));
    CHECK(in_words(*parts) == "29.40500° S, 83.10000° W");
    CHECK(in_words(*whole) == "29.40500° N, 83.10000° E");
}

TEST_CASE("what is no place gives none") {
    const Angle fine{{{29, 1}, {24, 1}, {18, 1}}};
    CHECK(!position_of(testing::jpeg_scene(16, 16, 1)));
    CHECK(!position_of(testing::with_exif(testing::jpeg_scene(16, 16, 1), 6)));
    CHECK(!position_of(""));
    CHECK(!position_of(taken_at('N', {{{29, 1}, {24, 0}, {18, 1}}}, 'E', fine)));
    CHECK(!position_of(taken_at('N', {{{90, 1}, {0, 1}, {1, 1}}}, 'E', fine)));
    CHECK(!position_of(taken_at('N', fine, 'E', {{{180, 1}, {1, 60}, {0, 1}}})));
    CHECK(!position_of(taken_at('Q', fine, 'E', fine)));
    CHECK(!position_of(taken_at('N', fine, '\0', fine)));
    // Cut anywhere, it is read within its bytes.
    const std::string file = taken_at('N', fine, 'E', fine);
    for (std::size_t length = 0; length < file.size(); ++length) (void)position_of(std::string_view{file}.substr(0, length));
}
