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
    const auto own = attest_file(handed->report, "", &bench.desk().journal());
    CHECK(own.sealer_known);
    CHECK(own.genuine);
    CHECK(own.in_journal == true);
    CHECK(own.job == bench.job);
    CHECK(own.reasons.empty());

    const auto alone = attest_file(handed->report, "", nullptr);
    CHECK_FALSE(alone.sealer_known);
    CHECK(alone.genuine);
    CHECK_FALSE(alone.in_journal.has_value());
    REQUIRE(alone.reasons.size() == 1);
    CHECK(alone.reasons[0] == "The file is unaltered. Whether the sealer is the company, only its published fingerprint can tell.");
    CHECK(attest_file(handed->report, own.fingerprint, nullptr).reasons.empty());
    CHECK_FALSE(attest_file(handed->report, std::string(64, '0'), nullptr).genuine);

    Bench other{testing::house_facts(testing::tools()), "commissioning", "other"};
    const auto elsewhere = attest_file(handed->report, "", &other.desk().journal());
    CHECK(elsewhere.genuine);
    CHECK(elsewhere.in_journal == false);
    CHECK(elsewhere.reasons.size() == 2);

    auto altered = handed->report;
    altered[altered.size() / 2] = static_cast<char>(altered[altered.size() / 2] ^ 1);
    const auto broken = attest_file(altered, "", &bench.desk().journal());
    CHECK_FALSE(broken.genuine);
    CHECK(broken.in_journal != true);
    CHECK_FALSE(attest_file("", "", &bench.desk().journal()).genuine);
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

TEST_CASE("a fingerprint is read as it is printed, in groups and with colons") {
    const std::string digits = "f371f7550011223344556677889900aabbccddeeff00112233445566778899aa";
    CHECK(bare_fingerprint("F371 F755 0011 2233 4455 6677 8899 00AA BBCC DDEE FF00 1122 3344 5566 7788 99AA") == digits);
    CHECK(bare_fingerprint("f3:71:f7:55:00:11:22:33:44:55:66:77:88:99:00:aa:bb:cc:dd:ee:ff:00:11:22:33:44:55:66:77:88:99:aa") ==
          digits);
    CHECK(bare_fingerprint("nonsense") == "nonsense");
    CHECK(bare_fingerprint("") == "");
}

TEST_CASE("a square code counts only with a company's word, and a forged one never") {
    Bench bench;
    bench.do_all();
    bench.sign_both();
    const auto handed = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE(handed);
    const auto& company = bench.desk().journal().keys().company();
    REQUIRE(company);
    const handover::PaperFacts facts{.job = bench.job, .state = "full", .date = "2026-11-25", .place = "Dovetail Steps",
                                     .checks = "52 of 52 conform", .hottest = "46 °C",
                                     .head = bench.desk().journal().head().hash.substr(0, 32),
                                     .company = digest::root_fingerprint(*company).substr(0, 32)};
    const auto by = [](const digest::CompanyKeys& keys) {
        return [&keys](std::string_view bytes) { return digest::sign_as_company(keys, bytes); };
    };
    const auto ours = *handover::paper_proof(facts, by(*company));
    const auto fingerprint = digest::root_fingerprint(*company);

    const auto nobody = attest_paper(ours, "", {}, nullptr);
    REQUIRE(nobody);
    CHECK_FALSE(nobody->genuine);
    CHECK(attest_paper(ours, "", {company->root_certificate}, nullptr)->genuine);
    CHECK(attest_paper(ours, fingerprint, {company->root_certificate}, nullptr)->genuine);
    CHECK_FALSE(attest_paper(ours, std::string(64, 'd'), {company->root_certificate}, nullptr)->genuine);
    CHECK_FALSE(attest_paper(ours, "deadbeef", {company->root_certificate}, nullptr)->genuine);
    const auto known = attest_paper(ours, "", {}, &bench.desk().journal());
    REQUIRE(known);
    CHECK(known->genuine);
    CHECK(known->in_journal == true);

    const auto forger = digest::make_company_keys(std::string(96, 'f'), "Witnessmark", {0, 4'000'000'000});
    REQUIRE(forger);
    auto lies = facts;
    lies.hottest = "38 °C";
    const auto forged = *handover::paper_proof(lies, by(*forger));
    for (const store::Journal* journal : {static_cast<const store::Journal*>(nullptr), &std::as_const(bench.desk().journal())}) {
        CHECK_FALSE(attest_paper(forged, "", {}, journal)->genuine);
        CHECK_FALSE(attest_paper(forged, fingerprint, {company->root_certificate}, journal)->genuine);
        CHECK_FALSE(attest_paper(forged, digest::root_fingerprint(*forger), {}, journal)->genuine);
    }
}

}  // namespace wm::desk
