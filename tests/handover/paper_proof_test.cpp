#include "handover/paper_proof.hpp"

#include <doctest/doctest.h>

#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

const PaperFacts facts{"J-07-0031",        "restricted", "2027-03-04", "14 Dovetail Steps",
                       "52 of 53 conform", "46.4 °C",    "9f2e6d33",   digest::root_fingerprint(handover::testing::sample_company()).substr(0, 32)};

const digest::CompanyKeys& company() { return handover::testing::sample_company(); }

Result<std::string> sign(std::string_view bytes) { return digest::sign_as_company(company(), bytes); }

}  // namespace

TEST_CASE("base64url agrees with the vectors of RFC 4648, without padding") {
    // Source: RFC 4648, section 10.
    CHECK(base64url("") == "");
    CHECK(base64url("f") == "Zg");
    CHECK(base64url("fo") == "Zm8");
    CHECK(base64url("foobar") == "Zm9vYmFy");
    CHECK(base64url("\xfb\xff") == "-_8");
}

TEST_CASE("signed facts are read back as they were, and only this company vouches for them") {
    const auto reading = read_paper_proof(*paper_proof(facts, sign));
    REQUIRE(reading);
    CHECK(reading->facts == facts);
    CHECK(is_signed_by(*reading, company().root_certificate));
    const auto other = digest::make_company_keys(std::string(96, 'z'), "Bramblewisp", {0, 4'000'000'000});
    REQUIRE(other);
    CHECK_FALSE(is_signed_by(*reading, other->root_certificate));
    CHECK_FALSE(is_signed_by(*reading, ""));
}

TEST_CASE("a forger who signs with a key of his own, in whose name ever, is refused") {
    const auto forger = digest::make_company_keys(std::string(96, 'z'), "Bramblewisp", {0, 4'000'000'000});
    REQUIRE(forger);
    const auto by_forger = [&](std::string_view bytes) { return digest::sign_as_company(*forger, bytes); };
    auto lies = facts;
    lies.checks = "84 of 84 conform";
    // In the company's name: the signature is not the company's.
    const auto in_our_name = read_paper_proof(*paper_proof(lies, by_forger));
    REQUIRE(in_our_name);
    CHECK_FALSE(is_signed_by(*in_our_name, company().root_certificate));
    CHECK_FALSE(is_signed_by(*in_our_name, forger->root_certificate));
    // In his own: the facts name another company.
    lies.company = digest::root_fingerprint(*forger).substr(0, 32);
    const auto in_his_own = read_paper_proof(*paper_proof(lies, by_forger));
    REQUIRE(in_his_own);
    CHECK(is_signed_by(*in_his_own, forger->root_certificate));
    CHECK_FALSE(is_signed_by(*in_his_own, company().root_certificate));
}

TEST_CASE("no single byte of a proof can be changed unnoticed") {
    const std::string text = *paper_proof(facts, sign);
    for (std::size_t at = 0; at < text.size(); ++at) {
        std::string changed = text;
        changed[at] = static_cast<char>(changed[at] ^ 0x01);
        CAPTURE(at);
        const auto reading = read_paper_proof(changed);
        CHECK((!reading || !is_signed_by(*reading, company().root_certificate)));
    }
    CHECK(!read_paper_proof(text + "more=1\n"));
    CHECK(!read_paper_proof(text.substr(0, text.size() - 1)));
}

TEST_CASE("a fact cannot smuggle in a line of its own") {
    PaperFacts sly = facts;
    sly.place = "here\nstate=full";
    const auto proof = paper_proof(sly, sign);
    REQUIRE(!proof);
    CHECK(proof.error().what == "A fact for the square code holds a line break.");
}

TEST_CASE("a proof of another version is refused, not guessed") {
    const auto reading = read_paper_proof("WM1\njob=J\n");
    REQUIRE(!reading);
    CHECK(reading.error().what ==
          "The code holds no handover facts of this program's kind.");
}
