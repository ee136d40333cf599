#include "desk/reissue.hpp"

#include "desk/attest.hpp"
#include "desk/testing.hpp"
#include "digest/hash.hpp"

namespace wm::desk {

using testing::Bench;

TEST_CASE("a report is issued again under the first one's name, with or without a stamp server") {
    Bench bench;
    CHECK(reissue_report(bench.desk(), bench.job).error().what ==
          "The job is not handed over yet, so there is no sealed report.");
    bench.do_all();
    bench.sign_both();
    const auto handed = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE(handed);
    CHECK(handed->unstamped.empty());
    const auto again = reissue_report(bench.desk(), bench.job);
    REQUIRE_MESSAGE(again, (again ? "" : told(again.error())));
    CHECK(again->first == handed->sha256);
    CHECK(again->sha256 == digest::sha256_hex(again->report));
    CHECK(again->unstamped.empty());
    const auto view = attest_file(again->report, "", &bench.desk().journal());
    CHECK(view.genuine);
    CHECK(view.in_journal == true);
    CHECK(view.reissue_of == handed->sha256);
    CHECK(view.stamped_at.empty());
}

TEST_CASE("a stamp server that is not there costs the stamp and nothing else") {
    Bench bench;
    bench.do_all();
    bench.sign_both();
    const auto& company = bench.desk().journal().keys().company();
    REQUIRE(company);
    Setup setup = bench.desk().setup();
    setup.stamp_server = "http://127.0.0.1:1/";
    std::string unstamped;
    const auto seal = sealed_with_stamp(setup, *company, "the report", unstamped);
    REQUIRE(seal);
    CHECK(unstamped.starts_with("The stamp server gave no time stamp: "));
    setup.stamp_server.clear();
    CHECK(sealed_with_stamp(setup, *company, "the report", unstamped));
    CHECK(unstamped.empty());
}

TEST_CASE("the moment of a report is the wall clock of its zone") {
    const auto moment = printed_moment({.wall_ms = 1'796'000'000'000, .zone_minutes = 120});
    CHECK(moment.zone_minutes == 120);
    CHECK(moment.year == 2026);
}

}  // namespace wm::desk
