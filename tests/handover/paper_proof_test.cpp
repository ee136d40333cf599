#include "handover/paper_proof.hpp"

#include <doctest/doctest.h>

#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

const PaperFacts facts{"J-07-0031",        "restricted", "2027-03-04", "14 Dovetail Steps",
                       "52 of 53 conform", "46.4 °C",    "9f2e6d33",   "8d6c5633"};

std::string signed_proof() {
    const auto device = handover::testing::sample_device();
    return *paper_proof(facts, device.public_key,
                        [&](std::string_view bytes) { return digest::sign(device, bytes); });
}

}  // namespace

TEST_CASE("base64url agrees with the vectors of RFC 4648, without padding") {
    // Source: RFC 4648, section 10.
    CHECK(base64url("") == "");
    CHECK(base64url("f") == "Zg");
    CHECK(base64url("fo") == "Zm8");
    CHECK(base64url("foobar") == "Zm9vYmFy");
    CHECK(base64url("\xfb\xff") == "-_8");
}

TEST_CASE("signed facts are read back as they were, with the device that signed") {
    const auto reading = read_paper_proof(signed_proof());
    REQUIRE(reading);
    CHECK(reading->is_signed);
    CHECK(reading->facts == facts);
    CHECK(reading->device == digest::device_id(handover::testing::sample_device().public_key));
}

TEST_CASE("no single byte of a proof can be changed unnoticed") {
    const std::string text = signed_proof();
    for (std::size_t at = 0; at < text.size(); ++at) {
        std::string changed = text;
        changed[at] = static_cast<char>(changed[at] ^ 0x01);
        CAPTURE(at);
        const auto reading = read_paper_proof(changed);
        CHECK((!reading || !reading->is_signed));
    }
    CHECK(!read_paper_proof(text + "more=1\n"));
    CHECK(!read_paper_proof(text.substr(0, text.size() - 1)));
}

TEST_CASE("a fact cannot smuggle in a line of its own") {
    PaperFacts sly = facts;
    sly.place = "here\nstate=full";
    const auto proof = paper_proof(sly, std::string(32, 'k'),
                                   [](std::string_view) { return std::string(64, 's'); });
    REQUIRE(!proof);
    CHECK(proof.error().what == "A fact for the square code holds a line break.");
}

TEST_CASE("a proof of another version is refused, not guessed") {
    const auto reading = read_paper_proof("WM2\njob=J\n");
    REQUIRE(!reading);
    CHECK(reading.error().what ==
          "The code holds no handover facts of this program's first version.");
}
