#include "handover/reissue.hpp"

#include <doctest/doctest.h>

#include "digest/hash.hpp"
#include "digest/seal.hpp"
#include "handover/pdf_shape.hpp"
#include "handover/report.hpp"
#include "handover/seal.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

Result<std::string> sign(std::string_view bytes) {
    static const auto keys = handover::testing::sample_company();
    return digest::sign_detached(bytes, keys);
}

Reissue facts_for(const std::string& first) {
    return {.job = "J-07-0031", .company = "Bramblewisp Solar Crews", .first = digest::sha256_hex(first),
            .date = "2027-06-01", .written = {2027, 6, 1, 9, 0, 0, 120}, .fonts = {}};
}

}  // namespace

TEST_CASE("a report issued again is genuine and names the first by its hash") {
    const std::string first = *seal_report(*draw_report(handover::testing::sample_report(1)), sign);
    const auto again = reissued(first, facts_for(first));
    REQUIRE(again);
    const Attestation attested = attest_report(*seal_report(*again, sign));
    CHECK(attested.reasons == std::vector<std::string>{});
    CHECK(attested.reissue_of == digest::sha256_hex(first));
    CHECK(attested.job == attest_report(first).job);
    CHECK(attested.head == attest_report(first).head);
    CHECK(attested.signed_at == "2027-06-01T09:00:00+02:00");
    CHECK(attest_report(first).reissue_of.empty());
    const bool same_twice = *reissued(first, facts_for(first)) == *again;
    CHECK(same_twice);
}

TEST_CASE("only a first report of ours can be issued again") {
    const std::string first = *seal_report(*draw_report(handover::testing::sample_report(0)), sign);
    const std::string second = *seal_report(*reissued(first, facts_for(first)), sign);
    for (const std::string& bytes : {second, std::string{"no report"}, first + "\n"}) {
        const auto refused_again = reissued(bytes, facts_for(bytes));
        REQUIRE(!refused_again);
        CHECK(refused_again.error().what ==
              "Only a sealed report that was not issued again can be issued again.");
    }
}
