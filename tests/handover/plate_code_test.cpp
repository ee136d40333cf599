#include "handover/plate_code.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "drawing/recorded.hpp"
#include "handover/square_code.hpp"
#include "handover/testing.hpp"
#include "photo/jpeg_coder.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

// Widths of bars and spaces by value; 102 is FNC1, 104 begins set B, 106 stops. Source: ISO/IEC 15417, table 1 (from memory).
constexpr const char* widths[] = {
    "212222", "222122", "222221", "121223", "121322", "131222", "122213", "122312", "132212", "221213", "221312", "231212", "112232", "122132",
    "122231", "113222", "123122", "123221", "223211", "221132", "221231", "213212", "223112", "312131", "311222", "321122", "321221", "312212",
    "322112", "322211", "212123", "212321", "232121", "111323", "131123", "131321", "112313", "132113", "132311", "211313", "231113", "231311",
    "112133", "112331", "132131", "113123", "113321", "133121", "313121", "211331", "231131", "213113", "213311", "213131", "311123", "311321",
    "331121", "312113", "312311", "332111", "314111", "221411", "431111", "111224", "111422", "121124", "121421", "141122", "141221", "112214",
    "112412", "122114", "122411", "142112", "142211", "241211", "221114", "413111", "241112", "134111", "111242", "121142", "121241", "114212",
    "124112", "124211", "411212", "421112", "421211", "212141", "214121", "412121", "111143", "111341", "131141", "114113", "114311", "411113",
    "411311", "113141", "114131", "311141", "411131", "211412", "211214", "211232", "2331112"};
constexpr int fnc1 = 102, start_b = 104, stop = 106;
constexpr char separator = '\x1d';

std::vector<int> values_of(const std::string& text, bool is_marked) {
    std::vector<int> values{start_b};
    if (is_marked) values.push_back(fnc1);
    for (const char c : text) values.push_back(c == separator ? fnc1 : c - ' ');
    int sum = values.front();
    for (std::size_t i = 1; i < values.size(); ++i) sum += static_cast<int>(i) * values[i];
    values.push_back(sum % 103);
    values.push_back(stop);
    return values;
}

/// Bars of three dots a module on white, with a quiet zone of ten modules.
std::string picture_of(const std::vector<int>& values) {
    constexpr int dots = 3, quiet = 10 * dots, tall = 120, margin = 40;
    std::vector<bool> dark(quiet, false);
    for (const int value : values) {
        bool is_bar = true;
        for (const char* width = widths[value]; *width != '\0'; ++width, is_bar = !is_bar)
            dark.insert(dark.end(), static_cast<std::size_t>((*width - '0') * dots), is_bar);
    }
    dark.insert(dark.end(), quiet, false);
    const int wide = static_cast<int>(dark.size()), high = tall + 2 * margin;
    photo::Pixels pixels{.width = wide, .height = high, .rgb = std::vector<std::uint8_t>(static_cast<std::size_t>(wide) * static_cast<std::size_t>(high) * 3U, 245)};
    for (int y = margin; y < margin + tall; ++y)
        for (int x = 0; x < wide; ++x)
            if (dark[static_cast<std::size_t>(x)])
                for (std::size_t i = 0; i < 3; ++i)
                    pixels.rgb[3U * (static_cast<std::size_t>(y) * static_cast<std::size_t>(wide) + static_cast<std::size_t>(x)) + i] = 30;
    return photo::encoded_jpeg(pixels, 85);
}

}  // namespace

TEST_CASE("bars on a plate are read, and whether they hold elements") {
    const auto plain = read_plate_codes(picture_of(values_of("ST-0417/3", false)), "plate.jpg");
    REQUIRE_MESSAGE(plain, (plain ? "" : told(plain.error())));
    REQUIRE(plain->size() == 1);
    CHECK(plain->front().text == "ST-0417/3");
    CHECK_FALSE(plain->front().is_marked);
    const std::string elements = std::string{"010950600013435210RV-K12"} + separator + "21ST-0417";
    const auto marked = read_plate_codes(picture_of(values_of(elements, true)), "plate.jpg");
    REQUIRE_MESSAGE(marked, (marked ? "" : told(marked.error())));
    REQUIRE(marked->size() == 1);
    CHECK(marked->front().is_marked);
    CHECK(marked->front().text == elements);
}

TEST_CASE("a bar code whose own check value is wrong is not read") {
    auto values = values_of("ST-0417/3", false);
    values[values.size() - 2] = (values[values.size() - 2] + 1) % 103;
    const auto read = read_plate_codes(picture_of(values), "plate.jpg");
    REQUIRE_FALSE(read);
    CHECK(read.error().kind == ProblemKind::Unreadable);
    CHECK(read.error().where == "picture plate.jpg");
}
