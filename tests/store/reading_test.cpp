#include <doctest/doctest.h>

#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;

TEST_CASE("the words of each device's heads are those that its last entries carry") {
    const Folder folder;
    Journal journal = writing(folder);
    for (int i = 0; i < 5; ++i) {
        REQUIRE(journal.append(intent("", {{"J-1", reading("a", std::to_string(i))}})));
        CHECK(journal.heads().value() == std::vector<wm::record::Head>{journal.head()});
        CHECK(journal.signed_heads().value().size() == 1);
    }
}

TEST_CASE("a job that was never opened has no entries") {
    const Folder folder;
    Journal journal = writing(folder);
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", "1")}})));
    CHECK(journal.read_job("J-2").value().entries.empty());
    CHECK(journal.read_chain("nobody", 1).value().entries.empty());
}
