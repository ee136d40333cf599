#include "post/smtp.hpp"

#include <doctest/doctest.h>

namespace wm::post {

TEST_CASE("a server that cannot be reached leaves the message waiting") {
    // Port 1 of the loopback address: nothing listens there.
    const auto attempt = send_message({.url = "smtp://127.0.0.1:1", .user = {}, .password = {}, .ca_file = {}, .timeout_s = 2},
                                      "a@example.org", {"b@example.org"}, "x\r\n");
    CHECK(attempt.state == PostState::Waiting);
    CHECK(attempt.answer == "The mail server smtp://127.0.0.1:1 was not reached.");
}

TEST_CASE("an address that is no mail server is said to be none") {
    const auto attempt = send_message({.url = "http://127.0.0.1:1", .user = {}, .password = {}, .ca_file = {}}, "a@example.org",
                                      {"b@example.org"}, "x\r\n");
    CHECK(attempt.state == PostState::CannotSend);
    CHECK(attempt.answer == "\"http://127.0.0.1:1\" is no mail server. Write smtp://host:port or smtps://host:port.");
}

}  // namespace wm::post
