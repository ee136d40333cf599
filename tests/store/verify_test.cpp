#include <doctest/doctest.h>

#include "record/chain.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;

TEST_CASE("an untouched journal is genuine and counts its entries") {
    const Folder folder;
    Journal journal = writing(folder);
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}, {"J-1", note("Words.")}})));
    const JournalReport report = journal.verify_journal().value();
    CHECK(report.is_genuine());
    CHECK(report.chains.entries == 3);
    CHECK(report.chains.heads == std::vector<wm::record::Head>{journal.head()});
    CHECK(report.erased_words == 0);
}

TEST_CASE("entries a lost device wrote after it was revoked are called out") {
    const Folder folder;
    Opening with_company = opening(folder);
    with_company.company = "Tarnhollow Sunworks";
    Journal journal = Journal::open_to_write(with_company).value();
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}})));
    const std::string lost = journal.device();
    const std::string claim = wm::record::revocation_claim(lost, 2);
    const std::string word =
        wm::digest::to_hex(wm::digest::sign_as_company(*journal.keys().company(), claim).value());
    REQUIRE(journal.become_new_device(some_time));
    REQUIRE(journal.append(intent("", {{"", wm::record::DeviceRevoked{lost, 2, "00", "lost"}}})));
    CHECK(journal.verify_journal().value().is_genuine());
    REQUIRE(journal.append(intent("", {{"", wm::record::DeviceRevoked{lost, 2, word, "lost"}}})));
    CHECK(journal.verify_journal().value().reasons ==
          std::vector<std::string>{"Device " + lost +
                                   " was revoked from entry 2 on and has 1 later."});
}
