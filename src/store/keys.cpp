#include "store/keys.hpp"

#include "digest/box.hpp"
#include "digest/document.hpp"
#include "digest/hash.hpp"
#include "store/files.hpp"

namespace wm::store {
namespace {

namespace fs = std::filesystem;
using digest::Document;

constexpr std::int64_t ten_years_s = 10 * 365 * 86400LL;

fs::path in_keys(const fs::path& folder, const std::string& name) {
    return folder / "keys" / name;
}

digest::BoxKey box_key(const std::string& master) {
    return {master, "customer keys"};
}

constexpr const char* device_file = "device";
constexpr const char* company_file = "company";
constexpr const char* master_file = "master";

fs::path open_file(const fs::path& folder, const std::string& name) {
    return in_keys(folder, name + ".key");
}

fs::path sealed_file(const fs::path& folder, const std::string& name) {
    return in_keys(folder, name + ".sealed");
}

digest::BoxKey sealing(const std::string& sealing_key, const std::string& name) {
    return {sealing_key, "sealed " + name + " key"};
}

/// What the file of that key says, opened or unsealed; nullopt when there is neither.
Result<std::optional<std::string>> read_key_file(const fs::path& folder, const std::string& name,
                                                 const std::string& sealing_key, Disk& disk) {
    const fs::path shut = sealed_file(folder, name);
    const auto is_sealed = look_at_file(shut, disk);
    if (!is_sealed) return refused(is_sealed.error());
    const fs::path plain = open_file(folder, name);
    const auto is_open = look_at_file(plain, disk);
    if (!is_open) return refused(is_open.error());
    // Both are there when setting the first PIN was cut short: then the open one still counts.
    if (*is_open) {
        auto text = read_file(plain, disk);
        if (!text) return refused(text.error());
        return std::move(*text);
    }
    if (!*is_sealed) return std::optional<std::string>{};
    if (sealing_key.empty()) {
        return refused({.what = "The keys of this data folder are sealed by PINs.",
                        .where = folder.string(),
                        .what_to_do = "Say who you are and give the PIN: --person NAME --pin-file FILE, or "
                                      "unlock the window.",
                        .kind = ProblemKind::Refused});
    }
    const auto box = read_file(shut, disk);
    if (!box) return refused(box.error());
    auto text = digest::unlock(sealing(sealing_key, name), *box, shut.string());
    if (!text) return refused(text.error());
    return std::move(*text);
}

/// 32 bytes written as hexadecimal digits and a newline.
Result<std::string> read_secret(const fs::path& folder, const std::string& name,
                                const std::string& sealing_key, Disk& disk) {
    const auto text = read_key_file(folder, name, sealing_key, disk);
    if (!text) return refused(text.error());
    const std::string_view digits = *text ? std::string_view{**text} : std::string_view{};
    auto secret = digest::from_hex(digits.substr(0, digits.find('\n')));
    if (!secret || secret->size() != digest::box_key_bytes) {
        return refused({.what = *text ? "This key is damaged." : "This key is missing.",
                        .where = open_file(folder, name).string(),
                        .what_to_do = "Restore it from a copy of the data folder.",
                        .kind = ProblemKind::Unreadable});
    }
    return std::move(*secret);
}

Result<bool> is_there(const fs::path& folder, const std::string& name, Disk& disk) {
    const auto plain = look_at_file(open_file(folder, name), disk);
    if (!plain) return refused(plain.error());
    const auto shut = look_at_file(sealed_file(folder, name), disk);
    if (!shut) return refused(shut.error());
    return *plain || *shut;
}

Result<void> make_if_missing(const fs::path& folder, const std::string& name,
                             const RandomBytes& random, Disk& disk) {
    const auto there = is_there(folder, name, disk);
    if (!there) return refused(there.error());
    if (*there) return {};
    return write_file(open_file(folder, name), digest::to_hex(random(digest::box_key_bytes)) + "\n",
                      disk);
}

Result<void> make_company(const fs::path& folder, const RandomBytes& random, std::string_view name,
                          std::int64_t wall_ms, Disk& disk) {
    if (name.empty()) return {};
    const auto there = is_there(folder, company_file, disk);
    if (!there) return refused(there.error());
    // A folder whose other keys are sealed gets no open one beside them.
    const auto sealed = look_at_file(sealed_file(folder, device_file), disk);
    if (!sealed) return refused(sealed.error());
    if (*there || *sealed) return {};
    const std::int64_t now_s = wall_ms / 1000;
    const auto keys = digest::make_company_keys(random(96), name, {now_s, now_s + ten_years_s});
    if (!keys) return refused(keys.error());
    return write_file(open_file(folder, company_file), digest::company_file(*keys), disk);
}

}  // namespace

Result<Keys> Keys::open_or_make(const fs::path& folder, const RandomBytes& random,
                                std::string_view company, std::int64_t wall_ms, Disk& disk,
                                const std::string& sealing_key) {
    for (const char* name : {device_file, master_file})
        if (auto made = make_if_missing(folder, name, random, disk); !made) return refused(made.error());
    if (auto made = make_company(folder, random, company, wall_ms, disk); !made)
        return refused(made.error());
    auto keys = open(folder, disk, sealing_key);
    if (keys && !keys->customer(keys->house())) {
        const auto added =
            keys->add_customers({{keys->house(), random(digest::box_key_bytes)}}, random);
        if (!added) return refused(added.error());
    }
    return keys;
}

Result<Keys> Keys::open(const fs::path& folder, Disk& disk, const std::string& sealing_key) {
    Keys keys;
    keys.folder_ = folder;
    keys.disk_ = &disk;
    if (auto read = keys.read_files(sealing_key); !read) return refused(read.error());
    return keys;
}

Keys Keys::none(Disk& disk) {
    Keys keys;
    keys.disk_ = &disk;
    return keys;
}

Result<void> Keys::read_files(const std::string& sealing_key) {
    const auto secret = read_secret(folder_, device_file, sealing_key, *disk_);
    if (!secret) return refused(secret.error());
    auto device = digest::device_key(*secret);
    if (!device) return refused(device.error());
    device_ = std::move(*device);
    auto master = read_secret(folder_, master_file, sealing_key, *disk_);
    if (!master) return refused(master.error());
    master_ = std::move(*master);
    const auto company = read_key_file(folder_, company_file, sealing_key, *disk_);
    if (!company) return refused(company.error());
    if (*company) {
        auto keys = digest::read_company_file(**company, open_file(folder_, company_file).string());
        if (!keys) return refused(keys.error());
        company_ = std::move(*keys);
    }
    const auto is_open = look_at_file(open_file(folder_, device_file), *disk_);
    if (!is_open) return refused(is_open.error());
    if (!*is_open) sealing_key_ = sealing_key;
    const fs::path customers = in_keys(folder_, "customers.box");
    const auto has_customers = look_at_file(customers, *disk_);
    if (!has_customers) return refused(has_customers.error());
    if (!*has_customers) return {};
    const auto box = read_file(customers, *disk_);
    if (!box) return refused(box.error());
    const auto text = digest::unlock(box_key(master_), *box, customers.string());
    if (!text) return refused(text.error());
    const auto document = digest::read_canonical(*text, customers.string());
    if (!document) return refused(document.error());
    if (document->members() == nullptr) {
        return refused({.what = "The file of the customers' keys is damaged.",
                        .where = customers.string(),
                        .what_to_do = "Restore it from a copy of the data folder.",
                        .kind = ProblemKind::Unreadable});
    }
    for (const auto& [id, value] : *document->members()) {
        const std::string* digits = value.text();
        customers_[id] = digits == nullptr ? "" : digest::from_hex(*digits).value_or("");
    }
    return {};
}

Result<void> Keys::write_sealed(const std::string& sealing_key, const RandomBytes& random) {
    const auto shut = [&](const char* name, std::string_view text) -> Result<void> {
        const auto box = digest::lock(sealing(sealing_key, name), random(digest::box_nonce_bytes), text);
        if (!box) return refused(box.error());
        return write_file(sealed_file(folder_, name), *box, *disk_);
    };
    if (auto done = shut(device_file, digest::to_hex(device_.secret) + "\n"); !done) return done;
    if (auto done = shut(master_file, digest::to_hex(master_) + "\n"); !done) return done;
    if (!company_) return {};
    return shut(company_file, digest::company_file(*company_));
}

Result<void> Keys::drop_unsealed(const std::string& sealing_key) {
    // The device's last: as long as it is open, the folder counts as not sealed.
    for (const char* name : {company_file, master_file, device_file})
        if (auto done = remove_file(open_file(folder_, name), *disk_); !done) return done;
    sealing_key_ = sealing_key;
    return {};
}

std::string Keys::house() const {
    // Follows from the master key, so that two folders never mean each other's by it.
    return "house-" + digest::sha256_hex("house" + master_).substr(0, 16);
}

std::optional<std::string> Keys::customer(std::string_view id) const {
    const auto found = customers_.find(id);
    return found == customers_.end() ? std::nullopt : std::optional{found->second};
}

Result<void> Keys::write_customers(const RandomBytes& random) {
    Document document = Document::object();
    for (const auto& [id, key] : customers_) document.set(id, Document{digest::to_hex(key)});
    const auto text = digest::canonical_text(document);
    if (!text) return refused(text.error());
    const auto box = digest::lock(box_key(master_), random(digest::box_nonce_bytes), *text);
    if (!box) return refused(box.error());
    return write_file(in_keys(folder_, "customers.box"), *box, *disk_);
}

Result<void> Keys::add_customers(const std::map<std::string, std::string, std::less<>>& keys,
                                 const RandomBytes& random) {
    auto before = customers_;
    customers_.insert(keys.begin(), keys.end());
    auto written = write_customers(random);
    if (!written) customers_ = std::move(before);
    return written;
}

Result<void> Keys::erase_customers(const std::vector<std::string>& ids, const RandomBytes& random) {
    auto before = customers_;
    for (const std::string& id : ids) customers_.erase(id);
    if (customers_.size() == before.size()) return {};
    auto written = write_customers(random);
    if (!written) customers_ = std::move(before);
    return written;
}

Result<void> Keys::take_device(digest::DeviceKey key, const RandomBytes& random) {
    const std::string text = digest::to_hex(key.secret) + "\n";
    if (sealed_by_pin()) {
        const auto box =
            digest::lock(sealing(sealing_key_, device_file), random(digest::box_nonce_bytes), text);
        if (!box) return refused(box.error());
        if (auto done = write_file(sealed_file(folder_, device_file), *box, *disk_); !done) return done;
    } else if (auto done = write_file(open_file(folder_, device_file), text, *disk_); !done) {
        return done;
    }
    device_ = std::move(key);
    return {};
}

}  // namespace wm::store
