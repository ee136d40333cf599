#include "instruments/reading.hpp"

#include <doctest/doctest.h>
#include <modbus/modbus.h>

#include <chrono>

#include "digest/hash.hpp"
#include "instruments/modbus.hpp"
#include "instruments/simulators.hpp"

using namespace wm;
using namespace wm::instruments;

namespace {

Profile profile_of(const std::string& protocol, const std::string& rest) {
    const auto profile = read_profile("title = \"Gauge\"\nprotocol = \"" + protocol +
                                          "\"\ninstrument_type = \"pressure gauge\"\nunit = \"kPa\"\ndecimals = 1\nplausible = [0, 1600]\ntimeout = \"400 ms\"\n" + rest,
                                      "gauge.toml");
    REQUIRE_MESSAGE(profile, profile.error().what);
    return *profile;
}

Profile on_cable() { return profile_of("modbus-rtu", "scale = 0.1\nmarks = { \"77\" = \"PG-1\" }\n[modbus]\naddress = 17\nregister = 5\nserial_register = 9\nserial_form = \"number\"\n"); }

/// Answers register 5 with 4805 and register 9 with 77, each time changed by `spoil`, which counts the questions from 0.
Manner gauge(std::function<Reply(std::string answer, int number)> spoil) {
    return [spoil = std::move(spoil), number = 0](std::string& heard) mutable {
        if (heard.size() < 8) return Reply{};
        const bool is_serial = heard[3] == 9;
        heard.erase(0, 8);
        return spoil(frame_for_cable(17, is_serial ? bytes_of({3, 2, 0, 77}) : bytes_of({3, 2, 0x12, 0xC5})), number++);
    };
}

std::string what(const Result<Shown>& shown) { return shown ? "read " + shown->text : shown.error().what; }

}  // namespace

TEST_CASE("a gauge on a cable is read, with its mark, and the evidence is what went over the wire") {
    Cable cable{gauge([](std::string answer, int) { return Reply{std::move(answer), false}; })};
    const auto profile = on_cable();
    const auto shown = read_instrument(profile, cable.port());
    REQUIRE_MESSAGE(shown, shown.error().what);
    CHECK(shown->text == "480.5 kPa");
    CHECK(shown->serial == "77");
    CHECK(shown->mark == "PG-1");
    REQUIRE(shown->raw.size() == 2);
    CHECK(shown->raw[0].sent + shown->raw[1].sent == cable.heard());
    CHECK(shown->raw[1].received == frame_for_cable(17, bytes_of({3, 2, 0x12, 0xC5})));
    CHECK(evidence_of(profile, "/dev/x", *shown, "2027-03-04T09:10:00+02:00") ==
          "shown: 480.5 kPa\nread at: 2027-03-04T09:10:00+02:00\nport: /dev/x\nprofile: Gauge, SHA-256 " + profile.sha256 +
              "\nmeaning: holding register 5, int16, times 0.1, in kPa (modbus-rtu)\nserial number: 77\nsent: " + digest::to_hex(shown->raw[0].sent) +
              "\nreceived: " + digest::to_hex(shown->raw[0].received) + "\nsent: " + digest::to_hex(shown->raw[1].sent) +
              "\nreceived: " + digest::to_hex(shown->raw[1].received) + "\n");
}

TEST_CASE("an answer that was disturbed once is asked for again; one that stays disturbed is no reading") {
    const auto spoilt = [](std::string answer) {
        answer[3] = static_cast<char>(answer[3] ^ 0x10);
        return answer;
    };
    struct Row {
        const char* name;
        std::function<std::string(std::string)> spoil;
        std::string words;
    };
    const Row rows[] = {
        {"a wrong check sum", spoilt, "The answer was disturbed on its way: its check sum is wrong."},
        {"half an answer", [](std::string answer) { return answer.substr(0, 3); }, "The instrument gave no whole answer within 400 ms."},
        {"silence", [](const std::string&) { return std::string{}; }, "The instrument gave no whole answer within 400 ms."},
        {"another instrument", [](const std::string& answer) { return frame_for_cable(18, answer.substr(1, answer.size() - 3)); },
         "Another instrument answered than the one that was asked."},
    };
    for (const Row& row : rows) {
        CAPTURE(row.name);
        {
            Cable cable{gauge([&](std::string answer, int number) { return Reply{number == 0 ? row.spoil(answer) : answer, false}; })};
            CHECK(what(read_instrument(on_cable(), cable.port())) == "read 480.5 kPa");
        }
        Cable cable{gauge([&](const std::string& answer, int) { return Reply{row.spoil(answer), false}; })};
        const auto begun = std::chrono::steady_clock::now();
        CHECK(what(read_instrument(on_cable(), cable.port())) == row.words);
        // Two questions of 400 ms each; far below what would be a hang.
        CHECK(std::chrono::steady_clock::now() - begun < std::chrono::seconds{10});
    }
}

TEST_CASE("a port whose parity cannot be set is read again and again") {
    // A pseudo-terminal has none, and says so only to who asks for nothing else.
    Cable cable{gauge([](std::string answer, int) { return Reply{std::move(answer), false}; })};
    auto profile = on_cable();
    profile.serial.parity = Parity::Even;
    for (int i = 0; i < 3; ++i) CHECK(what(read_instrument(profile, cable.port())) == "read 480.5 kPa");
}

TEST_CASE("noise before the first answer costs no more than a second question") {
    Cable cable{gauge([](std::string answer, int number) { return Reply{(number == 0 ? "\x55\xAA\x13" : "") + answer, false}; })};
    CHECK(what(read_instrument(on_cable(), cable.port())) == "read 480.5 kPa");
}

TEST_CASE("a gauge that is unplugged in the middle is said to be gone") {
    for (const int at : {0, 1}) {
        CAPTURE(at);
        Cable cable{gauge([at](std::string answer, int number) { return Reply{number == at ? answer.substr(0, 3) : answer, number == at}; })};
        CHECK(what(read_instrument(on_cable(), cable.port())) == "The instrument is gone: its port was closed.");
    }
}

TEST_CASE("an exception, and a number that stands for none, are told and not asked again") {
    int questions = 0;
    Cable cable{[&](std::string& heard) {
        if (heard.size() < 8) return Reply{};
        heard.clear();
        ++questions;
        return Reply{frame_for_cable(17, bytes_of({0x83, 2})), false};
    }};
    CHECK(what(read_instrument(on_cable(), cable.port())) == "The instrument has no such register (exception 02, illegal data address).");
    CHECK(questions == 1);
    Cable bare{gauge([](std::string answer, int) { return Reply{std::move(answer), false}; })};
    auto profile = on_cable();
    profile.modbus.no_reading = 4805;
    CHECK(what(read_instrument(profile, bare.port())) == "The instrument has no reading: it sends the number that stands for none.");
    profile.modbus.no_reading = std::nullopt;
    profile.scale = 1.0;
    CHECK(what(read_instrument(profile, bare.port())) == "The instrument shows 4805, which it cannot: its range is 0 to 1600 kPa.");
}

TEST_CASE("a meter in the network is read from a server of the library, and the evidence is what reached it") {
    modbus_t* server = modbus_new_tcp("127.0.0.1", 0);
    modbus_mapping_t* map = modbus_mapping_new(0, 0, 200, 0);
    const float sun = 812.25F;
    // Its plain form puts the low word first, each word with the high byte first.
    modbus_set_float(sun, &map->tab_registers[100]);
    int listening = modbus_tcp_listen(server, 1);
    REQUIRE(listening >= 0);
    sockaddr_in address{};
    socklen_t size = sizeof address;
    REQUIRE(::getsockname(listening, reinterpret_cast<sockaddr*>(&address), &size) == 0);
    std::string heard, answered;
    std::thread thread{[&] {
        if (modbus_tcp_accept(server, &listening) < 0) return;
        std::array<std::uint8_t, MODBUS_TCP_MAX_ADU_LENGTH> question{};
        for (int got; (got = modbus_receive(server, question.data())) > 0;) {
            heard.append(question.begin(), question.begin() + got);
            modbus_reply(server, question.data(), got, map);
        }
    }};
    const auto profile = profile_of("modbus-tcp", "[modbus]\naddress = 1\nregister = 100\nform = \"float32\"\nwords = \"low first\"\n");
    const auto shown = read_instrument(profile, "127.0.0.1:" + std::to_string(ntohs(address.sin_port)));
    thread.join();
    ::close(listening);
    modbus_mapping_free(map);
    modbus_close(server);
    modbus_free(server);
    REQUIRE_MESSAGE(shown, shown.error().what);
    CHECK(shown->value == 812.25);
    REQUIRE(shown->raw.size() == 1);
    CHECK(shown->raw[0].sent == heard);
    CHECK(shown->raw[0].received.size() == 13);
}

TEST_CASE("a protocol and a port that do not go together are refused before anything is opened") {
    CHECK(read_instrument(on_cable(), "10.0.0.7:502").error().kind == ProblemKind::WrongUse);
    CHECK(read_instrument(profile_of("modbus-tcp", "[modbus]\nregister = 0\n"), "/dev/ttyUSB0").error().kind == ProblemKind::WrongUse);
}

TEST_CASE("an instrument of queries is read over cable and network, and its list of errors is looked into") {
    std::string trouble = "0,\"No error\"";
    const auto manner = by_line([&trouble](const std::string& line) {
        if (line == "*IDN?") return Reply{"Tarnhollow Works,T2,TH-0042,1.3\r\n", false};
        if (line == "MEAS:PRES?") return Reply{"+4.80500E+02\r\n", false};
        if (line == "SYST:ERR?") return Reply{trouble + "\r\n", false};
        return Reply{};
    });
    const auto profile = profile_of("scpi", "[scpi]\nreading = \"MEAS:PRES?\"\n");
    {
        Cable cable{manner};
        const auto shown = read_instrument(profile, cable.port());
        REQUIRE_MESSAGE(shown, shown.error().what);
        CHECK(shown->text == "480.5 kPa");
        CHECK(shown->mark == "TH-0042");
        CHECK(cable.heard() == "*IDN?\n*CLS\nMEAS:PRES?\nSYST:ERR?\n");
    }
    Network network{manner};
    CHECK(what(read_instrument(profile, network.port())) == "read 480.5 kPa");
    trouble = "-222,\"Data out of range\"";
    CHECK(what(read_instrument(profile, network.port())) == "The instrument reports an error: -222,\"Data out of range\".");
    // A query it does not know is met with silence.
    trouble = "-113,\"Undefined header\"";
    CHECK(what(read_instrument(profile_of("scpi", "[scpi]\nreading = \"MEAS:TEMP?\"\n"), network.port())) ==
          "The instrument reports an error: -113,\"Undefined header\".");
}

TEST_CASE("an instrument of lines is read past its echo and past noise") {
    const auto profile = profile_of("line", "[line]\nask = \"P\"\nreading = \"P={value} kPa\"\nask_identity = \"WHO\"\nidentity = \"SN {serial}\"\n");
    Cable cable{by_line([](const std::string& line) {
        if (line == "WHO") return Reply{"WHO\r\n\xFFSN 4711-93\r\n", false};
        return Reply{line + "\r\n\x07\x80P= 480.5 kPa\r\n", false};
    })};
    const auto shown = read_instrument(profile, cable.port());
    REQUIRE_MESSAGE(shown, shown.error().what);
    CHECK(shown->text == "480.5 kPa");
    CHECK(shown->serial == "4711-93");
    CHECK(cable.heard() == "WHO\r\nP\r\n");
}

TEST_CASE("of an instrument that speaks by itself the line it was in the middle of is not taken") {
    const auto profile = profile_of("line", "[line]\nreading = \"{value} kPa\"\n");
    Network network{[](std::string&) { return Reply{"0.5 kPa\r\n480.5 kPa\r\n48", false}; }, true};
    CHECK(what(read_instrument(profile, network.port())) == "read 480.5 kPa");
}

TEST_CASE("lines that are no reading are shown, and silence is told as silence") {
    const auto profile = profile_of("line", "[line]\nask = \"P\"\nreading = \"P={value} kPa\"\n");
    Cable other{by_line([](const std::string&) { return Reply{"P=69.7 psi\r\n", false}; })};
    CHECK(what(read_instrument(profile, other.port())) == "The instrument sent \"P=69.7 psi\", which is not \"P={value} kPa\".");
    Cable silent{by_line([](const std::string&) { return Reply{}; })};
    CHECK(what(read_instrument(profile, silent.port())) == "The instrument gave no whole answer in time.");
    Cable gone{by_line([](const std::string&) { return Reply{"P=48", true}; })};
    CHECK(what(read_instrument(profile, gone.port())) == "The instrument is gone: its port was closed.");
}
