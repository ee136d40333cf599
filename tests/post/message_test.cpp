#include "post/message.hpp"

#include <doctest/doctest.h>

#include <sstream>

namespace wm::post {

namespace {
Message sample() {
    return {.from = "office@example.org", .from_name = "Witnessmark", .to = {"resident@example.org"},
            .to_name = "Ansel Übermut", .subject = "Handover report J-1", .text = "Dear customer,\nthe water is warm.\n",
            .attachments = {{"report.pdf", "application/pdf", std::string(100, '\xff')}},
            .unix_seconds = 1772608200, .zone_minutes = 120, .id = "j1.abc@witnessmark.example"};
}
}  // namespace

TEST_CASE("the same message is written as the same bytes") {
    const auto one = write_message(sample());
    REQUIRE(one);
    CHECK(*one == *write_message(sample()));
    CHECK(one->find("Message-Id: <j1.abc@witnessmark.example>") != std::string::npos);
    CHECK(one->find("Date: Wed, 04 Mar 2026 09:10:00 +0200") != std::string::npos);
}

TEST_CASE("no line of a message is over 998 bytes, and each ends with CR LF (RFC 5322 2.1.1)") {
    auto message = sample();
    message.text = std::string(5000, 'x');
    message.subject = std::string(3000, 's');
    const auto bytes = write_message(message);
    REQUIRE(bytes);
    std::size_t start = 0;
    while (start < bytes->size()) {
        const auto end = bytes->find('\n', start);
        REQUIRE(end != std::string::npos);
        CHECK(end - start <= 999);
        CHECK((*bytes)[end - 1] == '\r');
        start = end + 1;
    }
}

TEST_CASE("names and subjects cannot add a header") {
    auto message = sample();
    message.to_name = "x\r\nBcc: thief@example.org";
    message.subject = "y\r\nX-Evil: 1\r\n\r\nbody";
    message.from_name = "z\nCc: other@example.org";
    const auto bytes = write_message(message);
    REQUIRE(bytes);
    std::istringstream lines{bytes->substr(0, bytes->find("\r\n\r\n"))};
    for (std::string line; std::getline(lines, line);) {
        CAPTURE(line);
        CHECK_FALSE(line.starts_with("Bcc"));
        CHECK_FALSE(line.starts_with("Cc"));
        CHECK_FALSE(line.starts_with("X-Evil"));
    }
}

TEST_CASE("a message without a recipient is kept, with words") {
    auto message = sample();
    message.to.clear();
    const auto answer = write_message(message);
    REQUIRE_FALSE(answer);
    CHECK(answer.error().what == "The message has no recipient.");
}

}  // namespace wm::post
