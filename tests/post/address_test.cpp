#include "post/address.hpp"

#include <doctest/doctest.h>

namespace wm::post {

TEST_CASE("an address has one @ and nothing that could start a header") {
    CHECK(read_address("resident@example.org", "here"));
    for (const char* bad : {"", "resident", "a@b@c", "@example.org", "a@", "a b@example.org", "a@example.org\r\nBcc: x@y",
                            "<a@example.org>", "a@example.org,b@example.org", "a\x01@b"}) {
        CAPTURE(bad);
        const auto answer = read_address(bad, "fact customer.email");
        REQUIRE_FALSE(answer);
        CHECK(answer.error().where == "fact customer.email");
        CHECK(answer.error().what.find('\n') == std::string::npos);
    }
}

TEST_CASE("a line end in a header text becomes a blank") {
    CHECK(header_text("Report\r\nBcc: all@example.org") == "Report Bcc: all@example.org");
    CHECK(header_text("  a\t\tb  ") == "a b");
}

TEST_CASE("a file name keeps to plain letters") {
    CHECK(file_name("hand over/../x.pdf") == "hand-over-..-x.pdf");
    CHECK(file_name("...") == "file");
    CHECK(file_name("") == "file");
}

}  // namespace wm::post
