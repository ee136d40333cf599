#include "store/look_through.hpp"

#include <doctest/doctest.h>

#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;

namespace {

Database database_in(const Folder& folder) {
    return Database::opened(folder.path() / "journal.db", "", OpenFor::Writing).value();
}

/// More than one batch of rows.
constexpr int many = 4100;

void write_many(const Folder& folder) {
    Journal journal = writing(folder);
    std::vector<wm::record::Draft> drafts;
    for (int i = 0; i < many; ++i) drafts.push_back({"J-1", reading("check-" + std::to_string(i), "20 N·m")});
    drafts.push_back({"J-1", note("Mind the dog.")});
    REQUIRE(journal.append(intent("", std::move(drafts))));
}

}  // namespace

TEST_CASE("a look at all entries follows the same chain as reading them") {
    const Folder folder;
    write_many(folder);
    const auto looked = look_through(database_in(folder)).value();
    CHECK(looked.damaged.empty());
    CHECK(looked.links.size() == many + 2);
    const auto all = Journal::open_to_read(opening(folder)).value().read_all().value();
    const auto of_links = wm::record::verify_links(looked.links);
    const auto of_entries = wm::record::verify_chains(all.entries);
    CHECK(of_links.is_sound());
    CHECK(of_links.heads == of_entries.heads);
    CHECK(of_links.entries == of_entries.entries);
    // The start of the device, and the note with words beside the journal.
    REQUIRE(looked.kept.size() == 2);
    CHECK(std::holds_alternative<wm::record::DeviceStarted>(looked.kept.front().entry.body));
    CHECK(std::holds_alternative<wm::record::NoteMade>(looked.kept.back().entry.body));
}

TEST_CASE("an altered row is named, and what came after it hangs in the air, in whichever batch it lies") {
    for (const int seq : {2, 100, 4095, 4096, 4097, 4098, 4101}) {
        CAPTURE(seq);
        const Folder folder;
        write_many(folder);
        const Database database = database_in(folder);
        REQUIRE(database.run("UPDATE entry SET body = replace(body, '20 N', '21 N') WHERE seq = " + std::to_string(seq)));
        const auto looked = look_through(database).value();
        REQUIRE(looked.damaged.size() == 1);
        CHECK(looked.damaged.front().ends_with("entry " + std::to_string(seq) + ": It is not what its hash was made of."));
        const auto chains = wm::record::verify_links(looked.links);
        REQUIRE(chains.broken.size() == (seq == many + 2 ? 0U : 1U));
        CHECK(chains.broken.front().ends_with("entry " + std::to_string(seq + 1) + " continues an entry that is not here."));
        CHECK(chains.heads.back().seq == seq - 1);
    }
}

TEST_CASE("a body that is no canonical text is damaged, though its hash fits") {
    const Folder folder;
    write_many(folder);
    const Database database = database_in(folder);
    // Written by whoever made the hash fit too.
    auto select = database.prepared("SELECT device, prev, time FROM entry WHERE seq = 2").value();
    REQUIRE(select.step().value());
    const wm::record::Entry entry{select.text(0), 2, select.text(1), select.text(2), "J-1", {}};
    const std::string body = R"({"kind": "undone"})";
    const auto hash = wm::digest::sha256_hex(wm::record::line_with_body(entry, body).value());
    REQUIRE(database.run("UPDATE entry SET body = '" + body + "', hash = '" + hash + "' WHERE seq = 2"));
    const auto looked = look_through(database).value();
    REQUIRE(looked.damaged.size() == 1);
    CHECK(looked.damaged.front().ends_with("entry 2: The text is not written in its one canonical form."));
}
