#include "instruments/profile.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "checklist/loader.hpp"

using namespace wm;
using namespace wm::instruments;

namespace {

const std::string head =
    "title = \"Gauge\"\nprotocol = \"modbus-rtu\"\ninstrument_type = \"pressure gauge\"\nunit = \"kPa\"\ndecimals = 0\nplausible = [0, 1600]\n";

std::string text_of(const std::filesystem::path& file) {
    std::ifstream in{file};
    return {std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
}

std::string replaced(std::string text, std::string_view what, std::string_view with) {
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), with);
}

}  // namespace

TEST_CASE("each profile that is shipped reads, and names a type of the catalogue in a unit of its kind") {
    checklist::Library library;
    REQUIRE(checklist::load_instruments(library, text_of(std::filesystem::path{WM_SOURCE_DIR} / "checklists/instruments.toml"), "instruments.toml"));
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator{std::filesystem::path{WM_SOURCE_DIR} / "assets/instruments"}) {
        CAPTURE(entry.path().string());
        const auto profile = read_profile(text_of(entry.path()), entry.path().filename().string());
        REQUIRE_MESSAGE(profile, profile.error().what);
        const auto type = std::find_if(library.instrument_types.begin(), library.instrument_types.end(), [&](const auto& each) { return each.id == profile->instrument_type; });
        REQUIRE(type != library.instrument_types.end());
        CHECK(type->unit.dimension == profile->unit.dimension);
        ++count;
    }
    CHECK(count >= 4);
}

TEST_CASE("a profile is understood as it is written") {
    const auto profile = read_profile(head + "scale = 0.1\nsettle = \"1.5 s\"\ntimeout = \"250 ms\"\nmarks = { \"0093\" = \"PG-1\" }\n"
                                             "[serial]\nbaud = 19200\nparity = \"even\"\n[modbus]\naddress = 17\ntable = \"input\"\nregister = 8\n"
                                             "form = \"float32\"\nwords = \"low first\"\nserial_register = 64\nserial_count = 5\n",
                                      "gauge.toml");
    REQUIRE_MESSAGE(profile, profile.error().what);
    CHECK(profile->scale == 0.1);
    CHECK(profile->settle_ms == 1500);
    CHECK(profile->timeout_ms == 250);
    CHECK(profile->serial.baud == 19200);
    CHECK(profile->serial.parity == Parity::Even);
    CHECK(profile->modbus.address == 17);
    CHECK(profile->modbus.reading.first == 8);
    CHECK(profile->modbus.reading.count == 2);
    CHECK(profile->modbus.words == WordOrder::LowFirst);
    CHECK(profile->modbus.serial->count == 5);
    CHECK(mark_of(*profile, "0093") == "PG-1");
    CHECK(mark_of(*profile, "0094") == "0094");
    CHECK(told_meaning(*profile) == "input register 8, float32, low first, times 0.1, in kPa");
}

TEST_CASE("what is wrong in a profile is said with its place and the cure") {
    struct Row {
        std::string text, what, where, what_to_do;
    };
    const std::string modbus = "[modbus]\nregister = 0\n";
    const Row rows[] = {
        {head, "the profile has no table [modbus].", "gauge.toml:1:1", "Say there what is asked, as the guide on profiles shows."},
        {head + "[modbus]\nregister = 70000\n", "register of [modbus] is 70000.", "gauge.toml:8:12", "Give a whole number from 0 to 65535."},
        {head + "[modbus]\nregister = 65535\nform = \"int32\"\n", "register of [modbus] reaches beyond register 65535.", "gauge.toml:8:12",
         "Count registers from 0, as on the wire."},
        {head + "[modbus]\nregister = 0\naddress = 248\n", "address of [modbus] is 248.", "gauge.toml:9:11", "Give a whole number from 1 to 247."},
        {head + "[modbus]\nregister = 0\nword = \"low first\"\n", "[modbus] has a key \"word\" that means nothing here.", "gauge.toml:9:8", "Did you mean words?"},
        {head + modbus + "[serial]\nbaud = 9601\n", "baud of [serial] is 9601.", "gauge.toml:10:8",
         "Write one of 1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200."},
        {replaced(head, "1600", "-1") + modbus, "the profile does not say what the instrument can show at all.", "gauge.toml:6:13",
         "Write plausible = [least, most] in its unit."},
        {replaced(head, "kPa", "furlong") + modbus, "unit of the profile is \"furlong\", which is not a unit this tool knows.", "gauge.toml:4:8",
         "Use a unit of the list in the guide, for example kPa, °C, mm or N·m."},
        {replaced(head, "modbus-rtu", "modbus"), "protocol of the profile is \"modbus\".", "gauge.toml:2:12",
         "Write one of \"modbus-rtu\", \"modbus-tcp\", \"scpi\", \"line\"."},
        {"scale = 0\n" + head + modbus, "a scale of 0 makes every reading the same.", "gauge.toml:1:9", "Write what one step of the number is worth, as scale = 0.1."},
        {"timeout = \"1 h\"\n" + head + modbus, "timeout of the profile is \"1 h\".", "gauge.toml:1:11", "Give a time from 50 ms to 60 s, as \"500 ms\"."},
        {replaced(head, "modbus-rtu", "line") + "[line]\nreading = \"{value} {value}\"\n", "reading of [line] must hold {value} once and no other brace.",
         "gauge.toml:8:11", "Write what the instrument sends, with {value} where it changes."},
        {replaced(head, "modbus-rtu", "line") + "[line]\nreading = \"{value}\"\nask = \"a\\nb\"\n",
         "ask of [line] holds a sign that cannot be sent in one line.", "gauge.toml:9:7", "Use up to 200 letters, digits and signs of ASCII, without a line end."},
        {replaced(head, "modbus-rtu", "scpi") + "[scpi]\nreading = \"MEAS:PRES\"\n", "reading of [scpi] asks nothing.", "gauge.toml:8:11",
         "Write the query with its ?, as \"MEAS:PRES?\"."},
    };
    for (const Row& row : rows) {
        CAPTURE(row.text);
        const auto profile = read_profile(row.text, "gauge.toml");
        REQUIRE_FALSE(profile);
        CHECK(profile.error().what == row.what);
        CHECK(profile.error().where == row.where);
        CHECK(profile.error().what_to_do == row.what_to_do);
    }
}
