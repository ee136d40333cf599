#include "digest/seal.hpp"

#include <doctest/doctest.h>

#include "digest/testing.hpp"

using namespace wm::digest;
using testing::some_company;

TEST_CASE("a seal is valid for its bytes and names signer and root") {
    const CompanyKeys keys = some_company();
    const std::string seal = sign_detached("the report", keys).value();
    const SealCheck check = verify_detached("the report", seal);
    CHECK(check.reasons == std::vector<std::string>{});
    CHECK(check.valid);
    CHECK(check.signer == "Tarnhollow Sunworks");
    CHECK(check.root_fingerprint == root_fingerprint(keys));
    CHECK(seal.size() < 4096);
}

TEST_CASE("other bytes under the same seal are noticed and said") {
    const std::string seal = sign_detached("the report", some_company()).value();
    const SealCheck check = verify_detached("the rep0rt", seal);
    CHECK_FALSE(check.valid);
    CHECK(check.reasons ==
          std::vector<std::string>{"The bytes are not the ones that were sealed."});
}

TEST_CASE("every changed bit of a seal is noticed") {
    const std::string seal = sign_detached("the report", some_company()).value();
    for (std::size_t i = 0; i < seal.size(); ++i) {
        std::string changed = seal;
        changed[i] = static_cast<char>(static_cast<unsigned char>(changed[i]) ^ (1U << (i % 8)));
        CAPTURE(i);
        CHECK_FALSE(verify_detached("the report", changed).valid);
    }
}

TEST_CASE("a seal that is cut or has something after it is not valid") {
    const std::string seal = sign_detached("the report", some_company()).value();
    CHECK_FALSE(verify_detached("the report", seal + std::string(1, '\0')).valid);
    CHECK_FALSE(verify_detached("the report", seal.substr(0, seal.size() - 1)).valid);
    CHECK(verify_detached("the report", "").reasons ==
          std::vector<std::string>{"This is not a signature of one signer."});
}

TEST_CASE("a seal of another company is valid and shows another root") {
    const CompanyKeys other = some_company('q', "Other Works");
    const SealCheck check = verify_detached("r", sign_detached("r", other).value());
    CHECK(check.valid);
    CHECK(check.signer == "Other Works");
    CHECK(check.root_fingerprint != root_fingerprint(some_company()));
}

TEST_CASE("keys that do not belong together make no seal") {
    CompanyKeys mixed = some_company();
    mixed.signing_certificate = some_company('q').signing_certificate;
    CHECK_FALSE(sign_detached("r", mixed));
    CHECK_FALSE(sign_detached("r", {}));
}

TEST_CASE("a certificate whose root is another company's is not valid") {
    CompanyKeys mixed = some_company();
    mixed.root_certificate = some_company('q').root_certificate;
    const SealCheck check = verify_detached("r", sign_detached("r", mixed).value());
    CHECK_FALSE(check.valid);
}

TEST_CASE("a seal made outside the certificates' time is not valid when a time is asked") {
    const std::string seal = sign_detached("r", some_company()).value();
    CHECK(verify_detached("r", seal, testing::ten_years.from + 1).valid);
    CHECK_FALSE(verify_detached("r", seal, testing::ten_years.from - 1).valid);
    CHECK_FALSE(verify_detached("r", seal, testing::ten_years.until + 1).valid);
}
