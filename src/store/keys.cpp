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

fs::path in_keys(const fs::path& folder, const char* name) {
    return folder / "keys" / name;
}

digest::BoxKey box_key(const std::string& master) {
    return {master, "customer keys"};
}

/// 32 bytes written as hexadecimal digits and a newline.
Result<std::string> read_secret(const fs::path& path) {
    const auto text = read_file(path);
    if (!text) return text;
    auto secret = digest::from_hex(std::string_view{*text}.substr(0, text->find('\n')));
    if (!secret || secret->size() != digest::box_key_bytes) {
        return refused({.what = "This key is damaged.",
                        .where = path.string(),
                        .what_to_do = "Restore it from a copy of the data folder.",
                        .kind = ProblemKind::Unreadable});
    }
    return std::move(*secret);
}

Result<void> make_if_missing(const fs::path& path, const RandomBytes& random) {
    std::error_code error;
    if (fs::exists(path, error)) return {};
    return write_file(path, digest::to_hex(random(digest::box_key_bytes)) + "\n");
}

Result<void> make_company(const fs::path& path, const RandomBytes& random, std::string_view name,
                          std::int64_t wall_ms) {
    std::error_code error;
    if (name.empty() || fs::exists(path, error)) return {};
    const std::int64_t now_s = wall_ms / 1000;
    const auto keys = digest::make_company_keys(random(96), name, {now_s, now_s + ten_years_s});
    if (!keys) return refused(keys.error());
    return write_file(path, digest::company_file(*keys));
}

}  // namespace

Result<Keys> Keys::open_or_make(const fs::path& folder, const RandomBytes& random,
                                std::string_view company, std::int64_t wall_ms) {
    if (auto made = make_if_missing(in_keys(folder, "device.key"), random); !made) {
        return refused(made.error());
    }
    if (auto made = make_if_missing(in_keys(folder, "master.key"), random); !made) {
        return refused(made.error());
    }
    if (auto made = make_company(in_keys(folder, "company.key"), random, company, wall_ms); !made) {
        return refused(made.error());
    }
    auto keys = open(folder);
    if (keys && !keys->customer(keys->house())) {
        const auto added =
            keys->add_customers({{keys->house(), random(digest::box_key_bytes)}}, random);
        if (!added) return refused(added.error());
    }
    return keys;
}

Result<Keys> Keys::open(const fs::path& folder) {
    Keys keys;
    keys.folder_ = folder;
    if (auto read = keys.read_files(); !read) return refused(read.error());
    return keys;
}

Result<void> Keys::read_files() {
    const auto secret = read_secret(in_keys(folder_, "device.key"));
    if (!secret) return refused(secret.error());
    auto device = digest::device_key(*secret);
    if (!device) return refused(device.error());
    device_ = std::move(*device);
    auto master = read_secret(in_keys(folder_, "master.key"));
    if (!master) return refused(master.error());
    master_ = std::move(*master);
    std::error_code error;
    const fs::path company = in_keys(folder_, "company.key");
    if (fs::exists(company, error)) {
        const auto text = read_file(company);
        if (!text) return refused(text.error());
        auto keys = digest::read_company_file(*text, company.string());
        if (!keys) return refused(keys.error());
        company_ = std::move(*keys);
    }
    const fs::path customers = in_keys(folder_, "customers.box");
    if (!fs::exists(customers, error)) return {};
    const auto box = read_file(customers);
    if (!box) return refused(box.error());
    const auto text = digest::unlock(box_key(master_), *box, customers.string());
    if (!text) return refused(text.error());
    const auto document = digest::read_canonical(*text, customers.string());
    if (!document || document->members() == nullptr) return refused(document.error());
    for (const auto& [id, value] : *document->members()) {
        const std::string* digits = value.text();
        customers_[id] = digits == nullptr ? "" : digest::from_hex(*digits).value_or("");
    }
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
    return write_file(in_keys(folder_, "customers.box"), *box);
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

Result<std::string> Keys::become_new_device(const RandomBytes& random) {
    std::string before = digest::device_id(device_.public_key);
    auto key = digest::device_key(random(digest::box_key_bytes));
    if (!key) return refused(key.error());
    const auto written =
        write_file(in_keys(folder_, "device.key"), digest::to_hex(key->secret) + "\n");
    if (!written) return refused(written.error());
    device_ = std::move(*key);
    return before;
}

}  // namespace wm::store
