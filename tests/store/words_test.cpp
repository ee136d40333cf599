#include <doctest/doctest.h>

#include "record/state.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;

namespace {

wm::record::JobOpened job_of(const std::string& customer, const std::string& number) {
    wm::record::JobOpened opened;
    opened.number = number;
    opened.customer = customer;
    opened.kind = "commissioning";
    opened.checklist = "commissioning";
    opened.checklist_hash = std::string(64, 'b');
    return opened;
}

/// A job with a name, a note and a photo of the customer.
wm::record::Attached write_job(Journal& journal, const std::string& customer,
                               const std::string& number, const std::string& name) {
    wm::record::FactsStated facts;
    facts.facts = {{"site.latitude", "29.4"}, {"customer.name", wm::record::Personal::said(name)}};
    auto taken = reading("coll-tilt", "35 °");
    taken.photos = {journal.keep(customer, "photo of " + name, "image/jpeg", "").value()};
    taken.photos[0].caption = wm::record::Personal::said("caption by " + name);
    REQUIRE(journal.append(
        intent(customer, {{number, job_of(customer, number)}, {number, facts}, {number, taken}})));
    return taken.photos[0];
}

}  // namespace

TEST_CASE("no file of the folder ever holds the words of a person") {
    const Folder folder;
    {
        Journal journal = writing(folder);
        const std::string customer = journal.new_customer().value();
        write_job(journal, customer, "J-1", "Mirela Ostrand");
        CHECK(files_holding(folder, "Mirela").empty());
    }
    CHECK(files_holding(folder, "Mirela").empty());
}

TEST_CASE("erasing a customer leaves the chain whole and no way to the words") {
    const Folder folder;
    std::string customer;
    std::string key;
    std::string box;
    wm::record::Attached photo;
    {
        Journal journal = writing(folder);
        customer = journal.new_customer().value();
        const std::string other = journal.new_customer().value();
        photo = write_job(journal, customer, "J-1", "Mirela Ostrand");
        write_job(journal, other, "J-2", "Jorun Felsgard");
        key = *journal.keys().customer(customer);
        box = journal.words_of(journal.read_job("J-1").value().entries).value().front().box;
        REQUIRE(files_holding(folder, box).size() == 1);
        REQUIRE(journal.erase_customer(customer, some_time));

        const auto gone = wm::record::folded("J-1", journal.read_job("J-1").value().entries);
        CHECK(wm::record::shown(*gone.fact("customer.name")) == "(erased)");
        CHECK(wm::record::shown(*gone.fact("site.latitude")) == "29.4");
        CHECK(gone.erased);
        CHECK(gone.check("coll-tilt")->outcome == wm::measure::Outcome::Conforms);
        const auto kept = wm::record::folded("J-2", journal.read_job("J-2").value().entries);
        CHECK(wm::record::shown(*kept.fact("customer.name")) == "Jorun Felsgard");
        CHECK_FALSE(kept.erased);
        CHECK_FALSE(journal.attachment(photo.id));
        CHECK_FALSE(journal.keys().customer(customer));
        const JournalReport report = journal.verify_journal().value();
        CHECK(report.reasons == std::vector<std::string>{});
        CHECK(report.erased_words == 2);
        // Bytes of the locked words and of the photo are gone from every file, log and free page.
        CHECK(files_holding(folder, box).empty());
        CHECK(files_holding(folder, photo.id).size() == 1);  // the entry that names it
        CHECK_FALSE(std::filesystem::exists(folder.path() / "attachments" / photo.id));
        CHECK_FALSE(journal.erase_customer(customer, some_time));
        CHECK_FALSE(journal.append(intent(customer, {{"J-1", note("More.")}})));
    }
    CHECK(files_holding(folder, box).empty());
    Journal again = writing(folder);
    CHECK_FALSE(again.keys().customer(customer));
    CHECK(again.verify_journal().value().is_genuine());
}

TEST_CASE("an erasure that was cut short is finished at the next start") {
    const Folder folder;
    std::string customer;
    wm::record::Attached photo;
    std::string keys_before;
    const auto box = folder.path() / "keys" / "customers.box";
    {
        Journal journal = writing(folder);
        customer = journal.new_customer().value();
        photo = write_job(journal, customer, "J-1", "Mirela Ostrand");
        keys_before = bytes_of(box);
        REQUIRE(journal.erase_customer(customer, some_time));
    }
    // As if the power had gone after the entry was stored and before the key was deleted.
    set_bytes(box, keys_before);
    Journal again = writing(folder);
    CHECK_FALSE(again.keys().customer(customer));
    CHECK(bytes_of(box) != keys_before);
}

TEST_CASE("words that were exchanged for others are found") {
    const Folder folder;
    Journal journal = writing(folder);
    const std::string customer = journal.new_customer().value();
    const auto one = journal.append(intent(customer, {{"J-1", note("one")}})).value();
    const auto two = journal.append(intent(customer, {{"J-1", note("two")}})).value();
    const auto words = journal.words_of(journal.read_all().value().entries).value();
    CHECK(words.size() == 2);
    CHECK(words[0].commitment != words[1].commitment);
    CHECK(words[0].customer == customer);
}

TEST_CASE("the same words of one customer have one commitment, of two customers two") {
    const Folder folder;
    Journal journal = writing(folder);
    const auto commitment = [&](const std::string& customer) {
        const auto written =
            journal.append(intent(customer, {{"J-1", note("same words")}})).value();
        return std::get<wm::record::NoteMade>(written[0].entry.body).text.commitment;
    };
    const std::string a = journal.new_customer().value();
    const std::string b = journal.new_customer().value();
    CHECK(commitment(a) == commitment(a));
    CHECK(commitment(a) != commitment(b));
}
