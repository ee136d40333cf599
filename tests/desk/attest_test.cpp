#include "desk/attest.hpp"

#include "desk/testing.hpp"
#include "digest/company.hpp"

namespace wm::desk {

using testing::Bench;

TEST_CASE("a report is genuine, known to its journal, and to no other") {
    Bench bench;
    bench.do_all();
    bench.sign_both();
    const auto handed = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE_MESSAGE(handed, (handed ? "" : told(handed.error())));
    const auto own = attest_file(handed->report, "", &bench.desk());
    CHECK(own.genuine);
    CHECK(own.in_journal == true);
    CHECK(own.job == bench.job);
    CHECK(own.reasons.empty());

    const auto alone = attest_file(handed->report, "", nullptr);
    CHECK(alone.genuine);
    CHECK_FALSE(alone.in_journal.has_value());
    REQUIRE(alone.reasons.size() == 1);
    CHECK(alone.reasons[0] == "The file is unaltered. Whether the sealer is the company, only its published fingerprint can tell.");
    CHECK(attest_file(handed->report, own.fingerprint, nullptr).reasons.empty());
    CHECK_FALSE(attest_file(handed->report, std::string(64, '0'), nullptr).genuine);

    Bench other{testing::house_facts(testing::tools()), "commissioning", "other"};
    const auto elsewhere = attest_file(handed->report, "", &other.desk());
    CHECK(elsewhere.genuine);
    CHECK(elsewhere.in_journal == false);
    CHECK(elsewhere.reasons.size() == 2);

    auto altered = handed->report;
    altered[altered.size() / 2] = static_cast<char>(altered[altered.size() / 2] ^ 1);
    const auto broken = attest_file(altered, "", &bench.desk());
    CHECK_FALSE(broken.genuine);
    CHECK(broken.in_journal != true);
    CHECK_FALSE(attest_file("", "", &bench.desk()).genuine);
}

TEST_CASE("the chain can be checked by hand from four files") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    const auto by_hand = chain_by_hand(bench.desk());
    REQUIRE(by_hand);
    CHECK(by_hand->chain.find("coll-tilt") != std::string::npos);
    CHECK(by_hand->key_pem.starts_with("-----BEGIN PUBLIC KEY-----"));
    CHECK(by_hand->claim.find(bench.view().head) != std::string::npos);
    CHECK(by_hand->signature.size() == 64);
    CHECK(by_hand->steps.find("sha256sum") != std::string::npos);
}

TEST_CASE("the journal names each device with its entries and head") {
    Bench bench;
    const auto journal = attest_journal(bench.desk());
    REQUIRE(journal);
    CHECK(journal->genuine);
    REQUIRE(journal->devices.size() == 1);
    CHECK(journal->devices[0].head == bench.view().head);
    CHECK(journal->devices[0].entries == journal->entries);
}

}  // namespace wm::desk
