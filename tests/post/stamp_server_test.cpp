#include "post/stamp_server.hpp"

#include <doctest/doctest.h>

// Real answers are tested over loopback by tests/whole/stamp_check.py.

namespace wm::post {

TEST_CASE("only web addresses are asked for a stamp") {
    for (const char* url : {"", "ftp://127.0.0.1/", "file:///etc/hostname", "127.0.0.1"}) {
        CAPTURE(url);
        const auto answer = ask_for_stamp({.url = url, .ca_file = "", .timeout_s = 1}, "q");
        REQUIRE(!answer);
        CHECK(answer.error().what == "This is no address of a stamp server.");
    }
}

TEST_CASE("a stamp server that is not there is told in words, and what to do") {
    // Port 1 of this machine: nothing listens there.
    const auto answer = ask_for_stamp({.url = "http://127.0.0.1:1/", .ca_file = "", .timeout_s = 2}, "q");
    REQUIRE(!answer);
    CHECK(answer.error().what.starts_with("The stamp server gave no time stamp: "));
    CHECK(answer.error().what_to_do ==
          "The report is good without a time stamp. Issue it again when the network is back.");
}

}  // namespace wm::post
