#include "instruments/port.hpp"

#include <doctest/doctest.h>

#include "instruments/simulators.hpp"
#include "temporary_folder.hpp"

using namespace wm;
using namespace wm::instruments;

TEST_CASE("a port is a device, or a host with a number") {
    CHECK(read_port_name("/dev/ttyUSB0")->device == "/dev/ttyUSB0");
    CHECK(read_port_name("10.0.0.7:502")->host == "10.0.0.7");
    CHECK(read_port_name("10.0.0.7:502")->service == "502");
    CHECK(read_port_name("[fd00::7]:5025")->host == "fd00::7");
    CHECK(read_port_name("[fd00::7]:5025")->told() == "[fd00::7]:5025");
    for (const char* text : {"", "ttyUSB0", ":502", "gauge:", "gauge:0", "gauge:65536", "gauge:5o2", "fd00::7:502", "a b:502", "[]:502"}) {
        CAPTURE(text);
        REQUIRE_FALSE(read_port_name(text));
        CHECK(read_port_name(text).error().kind == ProblemKind::WrongUse);
    }
}

TEST_CASE("a port that is not there, or is none, says so") {
    const TemporaryFolder folder;
    const auto what = [](const std::string& device) {
        const auto port = Port::open({device, "", ""}, {}, 200, "gauge");
        return port ? std::string{"open"} : port.error().problem.what;
    };
    CHECK(what((folder.path() / "none").string()) == "There is no instrument at this port.");
    CHECK(what("/dev/null") == "This is no serial port.");
    CHECK(what("/dev/zero") == "This is no serial port.");
    const auto closed = Port::open({"", "127.0.0.1", "1"}, {}, 200, "gauge");
    REQUIRE_FALSE(closed);
    CHECK(closed.error().problem.what == "Nothing answers at this address.");
}

TEST_CASE("lines end with CR, LF or both, and what came behind one is the next") {
    Network instrument{[](std::string&) { return Reply{"one\r\n\r\ntwo\nthree\rfour", true}; }, true};
    auto port = Port::open(read_port_name(instrument.port()).value(), {}, 1000, "gauge");
    REQUIRE(port);
    std::string seen;
    const Deadline until{2000};
    CHECK(port->line(until, seen).value() == "one");
    CHECK(port->line(until, seen).value() == "two");
    CHECK(port->line(until, seen).value() == "three");
    const auto cut = port->line(until, seen);
    REQUIRE_FALSE(cut);
    CHECK(cut.error().problem.what == "The instrument is gone: its port was closed.");
    CHECK(seen == "one\r\n\r\ntwo\nthree\rfour");
}

TEST_CASE("an instrument that never ends its line is left") {
    Network instrument{[](std::string&) { return Reply{std::string(6000, '7'), false}; }, true};
    auto port = Port::open(read_port_name(instrument.port()).value(), {}, 1000, "gauge");
    REQUIRE(port);
    std::string seen;
    CHECK(port->line(Deadline{5000}, seen).error().problem.what == "The instrument sends on and on without the end of a line.");
}
