#include "instruments/modbus.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <iterator>

#include "digest/hash.hpp"
#include "instruments/simulators.hpp"
#include "temporary_folder.hpp"

using namespace wm;
using namespace wm::instruments;

namespace {

const RegisterRow three_holding{RegisterTable::Holding, 107, 3};
const RegisterRow one_input{RegisterTable::Input, 8, 1};

}  // namespace

TEST_CASE("the check sum is that of the serial line guide") {
    // MODBUS over serial line V1.02, appendix B, from memory: the frame 02 07 goes out with 41 12 behind it.
    CHECK(frame_for_cable(2, bytes_of({0x07})) == bytes_of({0x02, 0x07, 0x41, 0x12}));
    // The check value that catalogues of check sums give for this one, from memory.
    CHECK(crc16("123456789") == 0x4B37);
}

TEST_CASE("questions and answers are those of the application protocol's examples") {
    // Application Protocol V1.1b3, 6.3 and 6.4, from memory: registers 108 to 110 are 555, 0 and 100; input register 9 is 10.
    CHECK(request_for(three_holding) == bytes_of({0x03, 0x00, 0x6B, 0x00, 0x03}));
    CHECK(request_for(one_input) == bytes_of({0x04, 0x00, 0x08, 0x00, 0x01}));
    CHECK(registers_in(bytes_of({0x03, 0x06, 0x02, 0x2B, 0x00, 0x00, 0x00, 0x64}), three_holding, "here").value() == std::vector<std::uint16_t>{555, 0, 100});
    CHECK(registers_in(bytes_of({0x04, 0x02, 0x00, 0x0A}), one_input, "here").value() == std::vector<std::uint16_t>{10});
}

TEST_CASE("frames for cable and network are those of another library") {
    // pymodbus 3.0.0 of Debian 12.
    const TemporaryFolder folder;
    const std::string said = (folder.path() / "said").string();
    REQUIRE(std::system(("/usr/bin/python3 " WM_SOURCE_DIR "/tests/instruments/other_frames.py > '" + said + "'").c_str()) == 0);
    std::ifstream in{said};
    int rows = 0;
    for (std::string table, cable, network, cable_answer, network_answer; true;) {
        int address = 0, first = 0, count = 0;
        if (!(in >> table >> address >> first >> count >> cable >> network >> cable_answer >> network_answer)) break;
        CAPTURE(address);
        CAPTURE(first);
        CAPTURE(count);
        const RegisterRow row{table == "holding" ? RegisterTable::Holding : RegisterTable::Input, first, count};
        CHECK(digest::to_hex(frame_for_cable(address, request_for(row))) == cable);
        CHECK(digest::to_hex(frame_for_network(address, request_for(row))) == network);
        // The other library answers with the number of each register.
        std::vector<std::uint16_t> expected;
        for (int i = 0; i < count; ++i) expected.push_back(static_cast<std::uint16_t>(first + i));
        CHECK(registers_in_frame(digest::from_hex(cable_answer).value(), Protocol::ModbusRtu, address, row, "here").value() == expected);
        CHECK(registers_in_frame(digest::from_hex(network_answer).value(), Protocol::ModbusTcp, address, row, "here").value() == expected);
        ++rows;
    }
    CHECK(rows == 200);
}

TEST_CASE("each exception of the protocol is said in words, and only the passing ones are asked again") {
    // Application Protocol V1.1b3, section 7, from memory.
    struct Row {
        int code;
        const char* word;
        Again again;
    };
    for (const Row row : {Row{1, "exception 01, illegal function", Again::No}, Row{2, "exception 02, illegal data address", Again::No},
                          Row{3, "exception 03, illegal data value", Again::No}, Row{4, "exception 04, server device failure", Again::No},
                          Row{5, "exception 05, acknowledge", Again::Yes}, Row{6, "exception 06, server device busy", Again::Yes},
                          Row{8, "exception 08, memory parity error", Again::No}, Row{10, "exception 0A, gateway path unavailable", Again::No},
                          Row{11, "exception 0B, gateway target device failed to respond", Again::Yes}, Row{0x2A, "exception 2A", Again::No}}) {
        CAPTURE(row.code);
        const auto refusal = registers_in(bytes_of({0x83, row.code}), three_holding, "gauge at port");
        REQUIRE_FALSE(refusal);
        CHECK(refusal.error().problem.what.find(row.word) != std::string::npos);
        CHECK(refusal.error().problem.where == "gauge at port");
        CHECK(refusal.error().again == row.again);
    }
}

TEST_CASE("an answer that is cut, longer, of another function, address or check sum is none") {
    const std::string answer = frame_for_cable(17, bytes_of({0x04, 0x02, 0x00, 0x0A}));
    const auto of_cable = [](const std::string& frame) { return registers_in_frame(frame, Protocol::ModbusRtu, 17, one_input, "here"); };
    REQUIRE(of_cable(answer));
    for (std::size_t at = 0; at < answer.size(); ++at) {
        CAPTURE(at);
        CHECK_FALSE(of_cable(answer.substr(0, at)));
        for (int bit = 0; bit < 8; ++bit) {
            std::string spoilt = answer;
            spoilt[at] = static_cast<char>(spoilt[at] ^ (1 << bit));
            CHECK_FALSE(of_cable(spoilt));
        }
    }
    CHECK(of_cable(frame_for_cable(18, bytes_of({0x04, 0x02, 0x00, 0x0A}))).error().problem.what ==
          "Another instrument answered than the one that was asked.");
    CHECK_FALSE(of_cable(frame_for_cable(17, bytes_of({0x03, 0x02, 0x00, 0x0A}))));
    CHECK_FALSE(of_cable(frame_for_cable(17, bytes_of({0x04, 0x04, 0x00, 0x0A, 0x00, 0x0A}))));
}

TEST_CASE("registers become numbers in each form and order of words") {
    const auto number = [](std::vector<std::uint16_t> registers, RegisterForm form, WordOrder words = WordOrder::HighFirst) { return number_in(registers, form, words); };
    CHECK(number({0xFFFE}, RegisterForm::Int16) == -2.0);
    CHECK(number({0xFFFE}, RegisterForm::Uint16) == 65534.0);
    CHECK(number({0x0001, 0x0002}, RegisterForm::Uint32) == 65538.0);
    CHECK(number({0x0002, 0x0001}, RegisterForm::Uint32, WordOrder::LowFirst) == 65538.0);
    CHECK(number({0xFFFF, 0xFFFE}, RegisterForm::Int32) == -2.0);
    // IEEE 754: 0x40490FDB is the float nearest to pi, 0xC2F6E979 the one nearest to -123.456.
    CHECK(number({0x4049, 0x0FDB}, RegisterForm::Float32) == doctest::Approx(3.14159265).epsilon(1e-7));
    CHECK(number({0xE979, 0xC2F6}, RegisterForm::Float32, WordOrder::LowFirst) == doctest::Approx(-123.456).epsilon(1e-7));
}

TEST_CASE("a serial number is text or digits, and none where it cannot be printed") {
    const auto serial = [](std::vector<std::uint16_t> registers, SerialForm form) { return serial_in(registers, form, WordOrder::HighFirst); };
    CHECK(serial({0x5747, 0x2D33, 0x3100, 0x2000}, SerialForm::Text) == "WG-31");
    CHECK(serial({0x5700, 0x4741}, SerialForm::Text).empty());
    CHECK(serial({0x0001, 0x0002}, SerialForm::Number) == "65538");
    CHECK(serial({77}, SerialForm::Number) == "77");
}
