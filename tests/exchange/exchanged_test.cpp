#include "exchange/exchanged.hpp"

#include <doctest/doctest.h>

#include "exchange/bundle.hpp"
#include "store/testing.hpp"

using namespace wm::exchange;
using namespace wm::store;
using namespace wm::store::testing;

namespace {

Packed packed(Journal& journal, const std::string& at) {
    auto bundle = pack(journal, {.since = {}, .passphrase = "six lanterns", .random = counted_bytes("p")}).value();
    REQUIRE(note_packed(journal, bundle.heads, at));
    return bundle;
}

void read_on(Journal& journal, const std::string& text) {
    REQUIRE(journal.append(intent("", {{"J-1", reading("a", text)}})));
}

}  // namespace

TEST_CASE("what was written after the last bundle is not exchanged, and nothing before it") {
    const Folder folder;
    Journal journal = writing(folder);
    CHECK(not_exchanged(journal).value().entries == 0);
    read_on(journal, "1");
    CHECK(not_exchanged(journal).value().entries == 2);  // the start of the device too
    packed(journal, "2027-03-01T17:00:00+05:00");
    CHECK(not_exchanged(journal).value().entries == 0);
    CHECK(not_exchanged(journal).value().since.empty());
    read_on(journal, "2");
    read_on(journal, "3");
    const auto waiting = not_exchanged(journal).value();
    CHECK(waiting.entries == 2);
    CHECK(waiting.jobs == std::vector<std::string>{"J-1"});
    CHECK(waiting.last_bundle == "2027-03-01T17:00:00+05:00");
    CHECK(waiting.since == journal.read_chain(journal.device(), 3).value().entries.front().entry.time);
    CHECK(waiting.not_confirmed == 4);
}

TEST_CASE("another device confirms what it had received, in its next bundle") {
    const Folder tablet, office;
    Journal ours = writing(tablet, "a");
    Journal theirs = writing(office, "b");
    read_on(ours, "1");
    const auto monday = packed(ours, "Monday");
    REQUIRE(unpack(theirs, monday.bytes, {"monday", "six lanterns", some_time}));
    read_on(ours, "2");
    CHECK(not_exchanged(ours).value().not_confirmed == 3);
    const auto back = packed(theirs, "Tuesday");
    REQUIRE(unpack(ours, back.bytes, {"back", "six lanterns", some_time}));
    // The second reading and the entry that says what came in.
    CHECK(not_exchanged(ours).value().not_confirmed == 2);
}

TEST_CASE("a damaged note only makes everything count as not exchanged") {
    const Folder folder;
    Journal journal = writing(folder);
    read_on(journal, "1");
    packed(journal, "Monday");
    set_bytes(folder.path() / "exchanged.json", "{\"at\":7}");
    CHECK(not_exchanged(journal).value().entries == 2);
    // A head of that number which is another entry says nothing either.
    REQUIRE(note_packed(journal, {{journal.device(), 2, std::string(64, 'a')}}, "Monday"));
    CHECK(not_exchanged(journal).value().entries == 2);
}
