#include "digest/company.hpp"

#include <doctest/doctest.h>

#include "digest/hash.hpp"
#include "digest/testing.hpp"

using namespace wm::digest;
using testing::some_company;

TEST_CASE("the same random bytes give the same company keys") {
    const CompanyKeys one = some_company();
    const CompanyKeys two = some_company();
    CHECK(one.root_key == two.root_key);
    CHECK(one.signing_key == two.signing_key);
    CHECK(one.root_certificate == two.root_certificate);
    CHECK(one.signing_certificate == two.signing_certificate);
    CHECK(sign_as_company(one, "device 1").value() == sign_as_company(two, "device 1").value());
    CHECK(one.root_key != one.signing_key);
    CHECK(some_company('b').root_key != one.root_key);
}

TEST_CASE("company keys are refused without a name, a time or enough random bytes") {
    const std::string bytes(96, 'x');
    CHECK_FALSE(make_company_keys(bytes.substr(1), "Name", testing::ten_years));
    CHECK_FALSE(make_company_keys(bytes, "", testing::ten_years));
    CHECK_FALSE(make_company_keys(bytes, std::string(65, 'n'), testing::ten_years));
    CHECK_FALSE(make_company_keys(bytes, "\xff", testing::ten_years));
    CHECK_FALSE(make_company_keys(bytes, "Name", {10, 10}));
    CHECK(make_company_keys(bytes, std::string(64, 'n'), testing::ten_years));
}

TEST_CASE("the fingerprint is the digest of the root certificate") {
    const CompanyKeys keys = some_company();
    CHECK(root_fingerprint(keys) == sha256_hex(keys.root_certificate));
    CHECK(is_sha256_hex(root_fingerprint(keys)));
}

TEST_CASE("the company's word is its own and for one message") {
    const CompanyKeys keys = some_company();
    const std::string word = sign_as_company(keys, "device 1").value();
    CHECK(is_signed_by_company(keys.root_certificate, "device 1", word));
    CHECK_FALSE(is_signed_by_company(keys.root_certificate, "device 2", word));
    CHECK_FALSE(is_signed_by_company(some_company('b').root_certificate, "device 1", word));
    CHECK_FALSE(is_signed_by_company("no certificate", "device 1", word));
    CHECK_FALSE(is_signed_by_company(keys.root_certificate, "device 1", word + "x"));
    CHECK_FALSE(sign_as_company({}, "device 1"));
}

TEST_CASE("the company file reads back and a torn one is refused") {
    const CompanyKeys keys = some_company();
    const std::string file = company_file(keys);
    const auto again = read_company_file(file, "company.key");
    REQUIRE(again);
    CHECK(again->root_key == keys.root_key);
    CHECK(again->root_certificate == keys.root_certificate);
    CHECK(again->signing_key == keys.signing_key);
    CHECK(again->signing_certificate == keys.signing_certificate);
    for (std::size_t length = 0; length + 2 < file.size(); length += 97) {
        CAPTURE(length);
        CHECK_FALSE(read_company_file(file.substr(0, length), "company.key"));
    }
}
