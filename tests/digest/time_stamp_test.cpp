#include "digest/time_stamp.hpp"

#include <doctest/doctest.h>

#include "digest/der.hpp"
#include "digest/seal.hpp"
#include "digest/stamp_authority.hpp"
#include "digest/testing.hpp"

// The authority is OpenSSL's own server side, which is tested against RFC 3161 by its makers; the
// suite also asks `openssl ts -reply` over the wire (tests/whole/stamp_check.py).

using namespace wm::digest;
using testing::some_company;
using testing::StampAuthority;

namespace {

const std::string nonce = "\x11\x22\x33\x44\x55\x66\x77\x88";

const StampAuthority& authority() {
    static const StampAuthority made;
    return made;
}

std::string stamp_of(const std::string& stamped) {
    return *stamp_from(authority().answer(stamp_request(stamped, nonce)), stamped, nonce);
}

std::string stamped_seal() {
    const std::string seal = *sign_detached("the report", some_company());
    return *with_time_stamp(seal, stamp_of(signature_value(seal)));
}

}  // namespace

TEST_CASE("a stamp names its time and its authority") {
    const StampReading reading = read_stamp(stamp_of("a signature"), "a signature");
    CHECK(reading.reasons == std::vector<std::string>{});
    CHECK(reading.authority == "Tarnhollow Clock");
    CHECK(reading.at.size() == 20);
    CHECK(reading.fingerprint.size() == 64);
}

TEST_CASE("a stamp of other bytes, and bytes that are no stamp, are refused") {
    CHECK(read_stamp(stamp_of("a signature"), "another").reasons ==
          std::vector<std::string>{"The time stamp belongs to another signature."});
    for (const std::string& bytes : {std::string{}, std::string{"\x30\x00", 2}, std::string(99, '0')}) {
        CHECK(read_stamp(bytes, "a signature").reasons ==
              std::vector<std::string>{"The time stamp is none of one authority."});
    }
}

TEST_CASE("an answer to another question, or none, is told in words") {
    const std::string answer = authority().answer(stamp_request("a", nonce));
    CHECK(stamp_from(answer, "a", "\x01\x02\x03\x04\x05\x06\x07\x08").error().what ==
          "The stamp server answered another question.");
    CHECK(stamp_from(answer, "b", nonce).error().what ==
          "The time stamp belongs to another signature.");
    CHECK(stamp_from("<html>", "a", nonce).error().what ==
          "The stamp server's answer is no time stamp.");
    const std::string refused = authority().answer("no request");
    CHECK(stamp_from(refused, "a", nonce).error().what == "The stamp server refused (status 2).");
}

TEST_CASE("a seal with a stamp is valid and says when it was stamped") {
    const SealCheck check = verify_detached("the report", stamped_seal());
    CHECK(check.reasons == std::vector<std::string>{});
    CHECK(check.valid);
    CHECK(check.stamp_authority == "Tarnhollow Clock");
    CHECK(check.stamped_at.size() == 20);
    CHECK(verify_detached("the report", *sign_detached("the report", some_company())).stamped_at.empty());
}

TEST_CASE("every changed bit of a stamped seal is noticed") {
    const std::string seal = stamped_seal();
    for (std::size_t i = 0; i < seal.size(); ++i) {
        for (const unsigned bit : {static_cast<unsigned>(i % 8), 0U}) {
            std::string changed = seal;
            changed[i] = static_cast<char>(static_cast<unsigned char>(changed[i]) ^ (1U << bit));
            CAPTURE(i);
            CHECK_FALSE(verify_detached("the report", changed).valid);
        }
    }
}

TEST_CASE("a seal takes one stamp, and only its own") {
    CHECK_FALSE(with_time_stamp(stamped_seal(), stamp_of("x")));
    const std::string seal = *sign_detached("the report", some_company());
    CHECK_FALSE(with_time_stamp(seal, stamp_of("another signature")));
    CHECK_FALSE(with_time_stamp("no seal", stamp_of("x")));
    CHECK(signature_value("no seal").empty());
}
