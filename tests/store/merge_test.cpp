#include <doctest/doctest.h>

#include "record/state.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;
using wm::record::Written;

namespace {

/// All that a journal has, as a bundle would bring it.
Foreign all_of(const Journal& journal) {
    Foreign foreign;
    foreign.entries = journal.read_all().value().entries;
    foreign.heads = journal.signed_heads().value();
    foreign.words = journal.words_of(foreign.entries).value();
    foreign.files = journal.files_of(foreign.entries).value();
    foreign.customer_keys = journal.keys().customers();
    return foreign;
}

std::vector<std::string> lines_of(const Journal& journal) {
    std::vector<std::string> lines;
    const Entries all = journal.read_all().value();
    for (const Written& written : all.entries) lines.push_back(written.hash);
    return lines;
}

}  // namespace

TEST_CASE("what another device wrote is here afterwards, words, photos and all") {
    const Folder a;
    const Folder b;
    Journal theirs = writing(a, "a");
    const std::string customer = theirs.new_customer().value();
    auto taken = reading("coll-tilt", "35");
    taken.photos = {theirs.keep(customer, "photo", "image/jpeg", "").value()};
    REQUIRE(theirs.append(intent(customer, {{"J-1", taken}, {"J-1", note("Mind the dog.")}})));
    Journal ours = writing(b, "b");
    const Merged merged = ours.merge(all_of(theirs), some_time).value();
    CHECK(merged.fresh.size() == 3);
    CHECK(merged.known == 0);
    CHECK(merged.forks.empty());
    const auto read = ours.read_job("J-1").value().entries;
    REQUIRE(read.size() == 3);
    CHECK(std::get<wm::record::NoteMade>(read[1].entry.body).text.text == "Mind the dog.");
    CHECK(ours.attachment(taken.photos[0].id).value() == "photo");
    CHECK(ours.verify_journal().value().reasons == std::vector<std::string>{});
}

TEST_CASE("a merge that brought something new is an entry that names all heads") {
    const Folder a;
    const Folder b;
    Journal theirs = writing(a, "a");
    REQUIRE(theirs.append(intent("", {{"J-1", reading("a", "1")}})));
    Journal ours = writing(b, "b");
    REQUIRE(ours.merge(all_of(theirs), some_time));
    const auto chain = ours.read_chain(ours.device(), 1).value().entries;
    REQUIRE(chain.size() == 2);
    CHECK(std::get<wm::record::Received>(chain[1].entry.body).heads ==
          std::vector<wm::record::Head>{theirs.head()});
    const Merged again = ours.merge(all_of(theirs), some_time).value();
    CHECK(again.fresh.empty());
    CHECK(again.known == 2);
    CHECK(ours.read_chain(ours.device(), 1).value().entries.size() == 2);
}

TEST_CASE("a merge that misses a stretch takes nothing and names the stretch") {
    const Folder a;
    const Folder b;
    Journal theirs = writing(a, "a");
    REQUIRE(theirs.append(intent("", {{"J-1", reading("a", "1")}})));
    const Foreign early = all_of(theirs);
    for (int i = 1; i < 5; ++i) REQUIRE(theirs.append(intent("", {{"J-1", reading("a", "1")}})));
    Journal ours = writing(b, "b");
    Foreign late = all_of(theirs);
    late.entries.erase(late.entries.begin(), late.entries.begin() + 4);
    auto refusal = ours.merge(late, some_time);
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error() ==
          wm::Problem{
              "Entries 1 to 4 of device " + theirs.device() + " are missing.", "bundle",
              "Nothing was taken. Take the earlier bundle first, or ask for one that begins at "
              "entry 1.",
              wm::ProblemKind::Refused});
    CHECK(ours.read_all().value().entries.empty());

    REQUIRE(ours.merge(early, some_time));
    CHECK(ours.merge(late, some_time).error().what ==
          "Entries 3 to 4 of device " + theirs.device() + " are missing.");
    CHECK(ours.merge(all_of(theirs), some_time).value().fresh.size() == 4);
    CHECK(ours.verify_journal().value().is_genuine());
}

TEST_CASE("changed entries, heads and files are refused whole") {
    const Folder a;
    const Folder b;
    Journal theirs = writing(a, "a");
    const std::string customer = theirs.new_customer().value();
    auto taken = reading("coll-tilt", "35");
    taken.photos = {theirs.keep(customer, "photo", "image/jpeg", "").value()};
    REQUIRE(theirs.append(intent(customer, {{"J-1", taken}})));
    Journal ours = writing(b, "b");
    Foreign changed = all_of(theirs);
    std::get<wm::record::ReadingTaken>(changed.entries[1].entry.body).text = "36";
    CHECK_FALSE(ours.merge(changed, some_time));
    changed = all_of(theirs);
    changed.heads[0].head.seq = 9;
    CHECK_FALSE(ours.merge(changed, some_time));
    changed = all_of(theirs);
    changed.files[0].bytes += "x";
    CHECK_FALSE(ours.merge(changed, some_time));
    CHECK(ours.read_all().value().entries.empty());
    CHECK(files_holding(b, taken.photos[0].id).empty());
}

TEST_CASE("an erasure is obeyed where it arrives, also for words that come later again") {
    const Folder a;
    const Folder b;
    Journal theirs = writing(a, "a");
    const std::string customer = theirs.new_customer().value();
    REQUIRE(theirs.append(intent(customer, {{"J-1", note("Mind the dog.")}})));
    const Foreign before = all_of(theirs);
    Journal ours = writing(b, "b");
    REQUIRE(ours.merge(before, some_time));
    REQUIRE(theirs.erase_customer(customer, some_time));
    REQUIRE(ours.merge(all_of(theirs), some_time));
    CHECK_FALSE(ours.keys().customer(customer));
    CHECK(files_holding(b, before.words[0].box).empty());
    REQUIRE(ours.merge(before, some_time));
    CHECK_FALSE(ours.keys().customer(customer));
    CHECK(ours.words_of(ours.read_all().value().entries).value().empty());
    const auto read = ours.read_job("J-1").value().entries;
    CHECK_FALSE(std::get<wm::record::NoteMade>(read[0].entry.body).text.text.has_value());
}

TEST_CASE("two devices that exchange everything have the same entries in the same order") {
    const Folder a;
    const Folder b;
    Journal one = writing(a, "a");
    Journal two = writing(b, "b");
    REQUIRE(one.append(intent("", {{"J-1", reading("a", "1")}})));
    REQUIRE(two.append(intent("", {{"J-1", reading("a", "2")}}, some_time + 10)));
    REQUIRE(one.merge(all_of(two), some_time + 20));
    REQUIRE(two.merge(all_of(one), some_time + 30));
    // The Received entry of the second is all that the first does not have.
    Foreign rest = all_of(two);
    REQUIRE(one.merge(rest, some_time + 40));
    std::vector<std::string> first = lines_of(one);
    first.pop_back();  // its own Received of just now
    CHECK(first == lines_of(two));
    const auto job = wm::record::folded("J-1", one.read_job("J-1").value().entries);
    CHECK(job.check("a")->conflicts.size() == 1);
    CHECK(wm::record::folded("J-1", two.read_job("J-1").value().entries)
              .check("a")
              ->conflicts.size() == 1);
}

TEST_CASE("a copied folder shows as a fork and both ends stay as evidence") {
    const Folder a;
    const Folder copy;
    const Folder office;
    {
        Journal original = writing(a, "a");
        REQUIRE(original.append(intent("", {{"J-1", reading("a", "1")}})));
    }
    std::filesystem::copy(a.path(), copy.path(),
                          std::filesystem::copy_options::recursive |
                              std::filesystem::copy_options::overwrite_existing);
    Journal original = writing(a, "a2");
    Journal copied = writing(copy, "c");
    REQUIRE(original.append(intent("", {{"J-1", reading("a", "2")}})));
    REQUIRE(copied.append(intent("", {{"J-1", reading("a", "3")}})));
    Journal ours = writing(office, "o");
    REQUIRE(ours.merge(all_of(original), some_time));
    const Merged merged = ours.merge(all_of(copied), some_time).value();
    REQUIRE(merged.forks.size() == 1);
    CHECK(merged.forks[0].hashes.size() == 2);
    CHECK(ours.read_job("J-1").value().entries.size() == 5);
    CHECK_FALSE(ours.verify_journal().value().is_genuine());
    // Each end keeps the signature of its head, so that the evidence can travel on.
    const Folder further;
    Journal third = writing(further, "t");
    CHECK(third.merge(all_of(ours), some_time).value().fresh.size() == all_of(ours).entries.size());
}

TEST_CASE("a folder that was set back goes on as a new device once it meets its own future") {
    const Folder a;
    const Folder backup;
    {
        Journal original = writing(a, "a");
        REQUIRE(original.append(intent("", {{"J-1", reading("a", "1")}})));
    }
    std::filesystem::copy(a.path(), backup.path(),
                          std::filesystem::copy_options::recursive |
                              std::filesystem::copy_options::overwrite_existing);
    Journal original = writing(a, "a2");
    REQUIRE(original.append(intent("", {{"J-1", reading("b", "2")}})));
    Journal restored = writing(backup, "r");
    const std::string before = restored.device();
    REQUIRE(restored.merge(all_of(original), some_time));
    CHECK(restored.device() != before);
    const auto chain = restored.read_chain(restored.device(), 1).value().entries;
    REQUIRE(chain.size() == 2);
    CHECK(std::get<wm::record::DeviceStarted>(chain[0].entry.body).predecessor == before);
    CHECK(std::holds_alternative<wm::record::Received>(chain[1].entry.body));
    CHECK(restored.verify_journal().value().is_genuine());
}

TEST_CASE("a clock far ahead is not followed") {
    const Folder a;
    const Folder b;
    Journal ahead = writing(a, "a");
    REQUIRE(ahead.append(intent("", {{"J-1", reading("a", "1")}}, some_time + 86'400'000)));
    Journal ours = writing(b, "b");
    REQUIRE(ours.merge(all_of(ahead), some_time));
    const auto written =
        ours.append(intent("", {{"J-1", reading("a", "2")}}, some_time + 1000)).value();
    CHECK(written[0].entry.time.substr(0, 10) == "2027-03-02");
    const auto job = wm::record::folded("J-1", ours.read_job("J-1").value().entries);
    CHECK(job.check("a")->conflicts.empty());
    CHECK(wm::record::shown(job.check("a")->standing_at("")->taken.text) == "2");
}
