// What a backup asks of a journal; the rest of journal.hpp.
#include "store/inside.hpp"

namespace wm::store {
namespace {

std::string quoted(const std::string& text) {
    std::string sql = "'";
    for (const char c : text) sql += c == '\'' ? std::string{"''"} : std::string{c};
    return sql + "'";
}

}  // namespace

Result<void> copy_tables(const Database& database, const std::filesystem::path& file, Disk& disk, Trouble* trouble) {
    const auto told = [&](const Database& of) {
        if (trouble != nullptr) *trouble = of.trouble();
    };
    if (auto done = remove_file(file, disk); !done) return done;
    if (auto done = database.run("VACUUM INTO " + quoted(file.string())); !done) {
        told(database);
        return done;
    }
    // Caches may hold names, under a key that outlives the customer's. The way back is kept in memory: a
    // file would hold what is deleted here.
    auto copy = Database::opened(file, disk.vfs(), OpenFor::Writing);
    if (!copy) return refused(copy.error());
    auto done = copy->run("PRAGMA journal_mode = MEMORY; PRAGMA synchronous = FULL; PRAGMA secure_delete = ON; DELETE FROM cache");
    if (!done) told(*copy);
    return done;
}

Result<void> Journal::copy_tables_to(const std::filesystem::path& file) const {
    Trouble trouble = Trouble::None;
    const auto done = copy_tables(inside_->database, file, *inside_->disk, &trouble);
    // A sync that failed is not trusted again, whichever file it was of.
    if (!done && trouble == Trouble::DiskBroken) inside_->read_only_because = done.error().what;
    return done;
}

Result<bool> Journal::holds(const record::Head& entry) const {
    return inside_->is_stored(entry);
}

Result<std::vector<AttachmentLine>> Journal::attachments() const {
    std::vector<AttachmentLine> all;
    auto find = inside_->database.prepared("SELECT id, customer FROM attachment ORDER BY id");
    if (!find) return refused(find.error());
    auto row = find->step();
    for (; row && *row; row = find->step()) all.push_back({find->text(0), find->text(1)});
    if (!row) return refused(row.error());
    return all;
}

Result<std::vector<std::string>> Journal::erased_customers() const {
    const auto all = inside_->erased_customers();
    if (!all) return refused(all.error());
    return std::vector<std::string>{all->begin(), all->end()};
}

}  // namespace wm::store
