// Keys in a backup: what opens the words of persons, and never a signing key that lies open.
#include "digest/box.hpp"
#include "digest/document.hpp"
#include "digest/hash.hpp"
#include "store/backup_keys.hpp"
#include "store/files.hpp"
#include "store/keys.hpp"

namespace wm::store {
namespace {

namespace fs = std::filesystem;
using digest::Document;

constexpr std::size_t salt_bytes = 16;
constexpr const char* sealed_files[] = {"people.json", "device.sealed", "company.sealed", "master.sealed"};

digest::BoxKey under(std::string key) {
    return {std::move(key), "keys of a backup"};
}

Result<std::string> locked_under(std::string_view passphrase, const std::string& plain, const RandomBytes& random) {
    const std::string salt = random(salt_bytes);
    auto key = digest::key_of_passphrase(passphrase, salt);
    if (!key) return key;
    const auto box = digest::lock(under(std::move(*key)), random(digest::box_nonce_bytes), plain);
    if (!box) return box;
    return digest::canonical_text(
        Document::object().set("box", Document{digest::to_hex(*box)}).set("salt", Document{digest::to_hex(salt)}));
}

Result<std::string> hex_at(const Document& document, std::string_view name, const fs::path& file) {
    const Document* member = document.find(name);
    auto bytes = member != nullptr && member->text() != nullptr ? digest::from_hex(*member->text()) : std::nullopt;
    if (bytes) return std::move(*bytes);
    return refused({.what = "The locked keys of this backup are damaged.",
                    .where = file.string(),
                    .what_to_do = "Leave the passphrase out to restore without them, or take another backup.",
                    .kind = ProblemKind::Unreadable});
}

/// Copies a file when it is there; false when it is not.
Result<bool> copied(const fs::path& from, const fs::path& to, Disk& disk) {
    const auto there = look_at_file(from, disk);
    if (!there) return refused(there.error());
    if (!*there) return false;
    const auto bytes = read_file(from, disk);
    if (!bytes) return refused(bytes.error());
    if (auto done = write_file(to, *bytes, disk); !done) return refused(done.error());
    return true;
}

}  // namespace

Result<void> Keys::renew_customers_in(const fs::path& folder) const {
    // As it lies here: locked under the master key, without those who were erased.
    const auto done = copied(folder_ / "keys/customers.box", folder / "keys/customers.box", *disk_);
    if (!done) return refused(done.error());
    return {};
}

Result<void> Keys::back_up_into(const fs::path& folder, const std::string& passphrase, const RandomBytes& random) const {
    const fs::path keys = folder / "keys";
    if (auto done = renew_customers_in(folder); !done) return done;
    if (sealed_by_pin()) {
        for (const char* name : sealed_files)
            if (const auto done = copied(folder_ / "keys" / name, keys / name, *disk_); !done) return refused(done.error());
        return remove_file(keys / "master.key", *disk_);
    }
    if (passphrase.empty()) return write_file(keys / "master.key", digest::to_hex(master_) + "\n", *disk_);
    Document document = Document::object();
    document.set("device", Document{digest::to_hex(device_.secret)}).set("master", Document{digest::to_hex(master_)});
    if (company_) document.set("company", Document{digest::to_hex(digest::company_file(*company_))});
    const auto plain = digest::canonical_text(document);
    if (!plain) return refused(plain.error());
    const auto text = locked_under(passphrase, *plain, random);
    if (!text) return refused(text.error());
    if (auto done = write_file(keys / "keys.box", *text, *disk_); !done) return done;
    return remove_file(keys / "master.key", *disk_);
}

Result<void> keys_from_backup(const fs::path& backups, const fs::path& folder, const std::string& passphrase, Disk& disk) {
    const fs::path from = backups / "keys";
    const fs::path to = folder / "keys";
    const auto sealed = look_at_file(from / "device.sealed", disk);
    if (!sealed) return refused(sealed.error());
    const fs::path box_file = from / "keys.box";
    const auto has_box = look_at_file(box_file, disk);
    if (!has_box) return refused(has_box.error());
    // The customers' keys last: until they are there, the folder's keys count as not restored.
    if (*sealed) {
        for (const char* name : sealed_files)
            if (const auto done = copied(from / name, to / name, disk); !done) return refused(done.error());
    } else if (*has_box && !passphrase.empty()) {
        const auto text = read_file(box_file, disk);
        if (!text) return refused(text.error());
        const auto outer = digest::read_canonical(*text, box_file.string());
        if (!outer) return refused(outer.error());
        const auto salt = hex_at(*outer, "salt", box_file);
        if (!salt) return refused(salt.error());
        const auto box = hex_at(*outer, "box", box_file);
        if (!box) return refused(box.error());
        auto key = digest::key_of_passphrase(passphrase, *salt);
        if (!key) return refused(key.error());
        const auto plain = digest::unlock(under(std::move(*key)), *box, box_file.string());
        if (!plain) return refused(plain.error());
        const auto inner = digest::read_canonical(*plain, box_file.string());
        if (!inner) return refused(inner.error());
        for (const char* name : {"device", "master"}) {
            const auto bytes = hex_at(*inner, name, box_file);
            if (!bytes) return refused(bytes.error());
            const auto done = write_file(to / (std::string{name} + ".key"), digest::to_hex(*bytes) + "\n", disk);
            if (!done) return done;
        }
        if (inner->find("company") != nullptr) {
            const auto bytes = hex_at(*inner, "company", box_file);
            if (!bytes) return refused(bytes.error());
            if (auto done = write_file(to / "company.key", *bytes, disk); !done) return done;
        }
    } else {
        const auto master = copied(from / "master.key", to / "master.key", disk);
        if (!master) return refused(master.error());
        if (!*master && *has_box)
            return refused({.what = "The keys of this backup are locked under a passphrase.",
                            .where = box_file.string(),
                            .what_to_do = "Give it: --password-file FILE, its first line is the passphrase.",
                            .kind = ProblemKind::Refused});
    }
    const auto customers = copied(from / "customers.box", to / "customers.box", disk);
    if (!customers) return refused(customers.error());
    return {};
}

}  // namespace wm::store
