#include "exchange/contents.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "digest/box.hpp"
#include "digest/document.hpp"
#include "digest/hash.hpp"
#include "record/codec.hpp"
#include "record/signed_ends.hpp"

namespace wm::exchange {
namespace {

using digest::Document;
using record::Written;

constexpr std::string_view keys_purpose = "customer keys of a bundle";

std::string claim_of(std::string_view manifest) {
    return fmt::format("witnessmark bundle\n{}", manifest);
}

tl::unexpected<Problem> changed(std::string what, std::string_view where) {
    return refused({.what = std::move(what),
                    .where = std::string{where},
                    .what_to_do = "Nothing was taken. Have the bundle made and carried over again.",
                    .kind = ProblemKind::Refused});
}

std::string text_in(const Document& document, std::string_view name) {
    const Document* member = document.find(name);
    return member != nullptr && member->text() != nullptr ? *member->text() : std::string{};
}

std::string bytes_in(const Document& document, std::string_view name) {
    return digest::from_hex(text_in(document, name)).value_or("");
}

/// Owner of a file: its name says what it is, this line whose it is.
Document words_line(const store::LockedWords& words) {
    return Document::object()
        .set("box", Document{digest::to_hex(words.box)})
        .set("commitment", Document{words.commitment})
        .set("customer", Document{words.customer});
}

Document head_line(const record::SignedHead& head) {
    return Document::object()
        .set("device", Document{head.head.device})
        .set("hash", Document{head.head.hash})
        .set("public_key", Document{digest::to_hex(head.public_key)})
        .set("seq", Document{head.head.seq})
        .set("signature", Document{digest::to_hex(head.signature)});
}

record::SignedHead head_of(const Document& line) {
    const Document* seq = line.find("seq");
    return {
        {text_in(line, "device"), seq != nullptr && seq->integer() != nullptr ? *seq->integer() : 0,
         text_in(line, "hash")},
        bytes_in(line, "public_key"),
        bytes_in(line, "signature")};
}

Result<std::vector<Part>> content_parts(const Contents& contents) {
    std::map<std::string, std::string> chains;
    for (const Written& written : contents.entries) {
        const auto line = record::line_of(written.entry);
        if (!line) return refused(line.error());
        chains[written.entry.device] += *line + "\n";
    }
    std::vector<Part> parts;
    for (auto& [device, lines] : chains) {
        parts.push_back({fmt::format("chains/{}.txt", device), std::move(lines)});
    }
    std::string words;
    for (const store::LockedWords& each : contents.words) {
        const auto line = digest::canonical_text(words_line(each));
        if (!line) return refused(line.error());
        words += *line + "\n";
    }
    parts.push_back({"words.txt", std::move(words)});
    for (const store::LockedFile& file : contents.files) {
        parts.push_back({"files/" + file.id, file.bytes});
    }
    for (const std::string& pin : contents.pins) parts.push_back({"pins/" + digest::sha256_hex(pin), pin});
    if (contents.keys) parts.push_back({"customers.box", contents.keys->box});
    return parts;
}

/// Lines of a part, without their newlines.
std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        lines.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return lines;
}

/// Within one chain every entry but the first ones continues another.
bool is_linked(const std::vector<Written>& chain) {
    std::set<std::string> hashes;
    for (const Written& written : chain) {
        const bool begins = written.entry.seq == chain.front().entry.seq;
        if (!begins && !hashes.contains(written.entry.prev)) return false;
        if (written.entry.device != chain.front().entry.device) return false;
        hashes.insert(written.hash);
    }
    return true;
}

class Unpacking {
public:
    Unpacking(std::vector<Part> parts, std::string_view where) : where_{where} {
        for (Part& part : parts) parts_[part.name] = std::move(part.bytes);
    }

    Result<Contents> contents() {
        if (auto read = read_manifest(); !read) return refused(read.error());
        if (auto fine = check_files(); !fine) return refused(fine.error());
        for (const auto& [name, bytes] : parts_) {
            if (auto read = read_part(name, bytes); !read) return refused(read.error());
        }
        const std::set<std::string> wanted = pinned_by(contents_.entries);
        for (const std::string& pin : contents_.pins) {
            if (const std::string hash = digest::sha256_hex(pin); !wanted.contains(hash))
                return changed(fmt::format("No job of the bundle was opened with the checklist {}.", hash), where_);
        }
        // Whoever makes a bundle signs its list; only a device signs what it wrote itself.
        if (const auto open = record::signed_by_nobody(contents_.entries, contents_.heads); !open.empty())
            return changed(fmt::format("Entry {} of device {} is signed by nobody.", open.front().seq, open.front().device), where_);
        return std::move(contents_);
    }

private:
    Result<void> read_manifest() {
        const auto manifest = parts_.find("manifest.json");
        const auto signature = parts_.find("manifest.sig");
        if (manifest == parts_.end() || signature == parts_.end()) {
            return changed("The bundle has no signed list of what it holds.", where_);
        }
        auto read = digest::read_canonical(manifest->second, where_);
        if (!read) return refused(read.error());
        manifest_ = std::move(*read);
        const Document* format = manifest_.find("format");
        if (format == nullptr || format->integer() == nullptr || *format->integer() < 1 ||
            *format->integer() > bundle_format) {
            return refused(
                {.what = "This bundle was made by another version.",
                 .where = std::string{where_},
                 .what_to_do = "Open it with that version, or bring this program up to date.",
                 .kind = ProblemKind::Unreadable});
        }
        contents_.maker = text_in(manifest_, "maker");
        const std::string key = bytes_in(manifest_, "public_key");
        const auto bytes = digest::from_hex(signature->second);
        if (digest::device_id(key) != contents_.maker || !bytes ||
            !digest::is_signed_by(key, claim_of(manifest->second), *bytes)) {
            return changed("The signature of the bundle does not fit.", where_);
        }
        const Document* heads = manifest_.find("heads");
        if (heads == nullptr || heads->items() == nullptr) return {};
        for (const Document& head : *heads->items()) {
            contents_.heads.push_back(head_of(head));
            if (!record::is_genuine(contents_.heads.back())) {
                return changed("The signature of a chain's head does not fit.", where_);
            }
        }
        return {};
    }

    Result<void> check_files() {
        parts_.erase("manifest.json");
        parts_.erase("manifest.sig");
        const Document* files = manifest_.find("files");
        if (files == nullptr || files->items() == nullptr ||
            files->items()->size() != parts_.size()) {
            return changed("The bundle does not hold what its list says.", where_);
        }
        for (const Document& file : *files->items()) {
            const auto part = parts_.find(text_in(file, "name"));
            if (part == parts_.end() ||
                digest::sha256_hex(part->second) != text_in(file, "sha256")) {
                return changed(fmt::format("\"{}\" was changed on its way.", text_in(file, "name")),
                               where_);
            }
            customer_of_[part->first] = text_in(file, "customer");
        }
        return {};
    }

    Result<void> read_part(const std::string& name, const std::string& bytes) {
        if (name.starts_with("chains/")) return read_chain(bytes);
        if (name == "words.txt") return read_words(bytes);
        if (name.starts_with("files/")) {
            contents_.files.push_back({name.substr(6), customer_of_[name], bytes});
            if (contents_.files.back().id == digest::sha256_hex(bytes)) return {};
        }
        if (name.starts_with("pins/")) {
            contents_.pins.push_back(bytes);
            if (digest::sha256_hex(bytes) == name.substr(5)) return {};
        }
        if (name == "customers.box") {
            contents_.keys = LockedKeys{bytes_in(manifest_, "salt"), bytes};
            return {};
        }
        return changed(fmt::format("\"{}\" does not belong into a bundle.", name), where_);
    }

    Result<void> read_chain(std::string_view text) {
        std::vector<Written> chain;
        for (const std::string_view line : lines_of(text)) {
            auto written = record::read_line(line, where_);
            if (!written) return refused(written.error());
            chain.push_back(std::move(*written));
        }
        if (chain.empty() || !is_linked(chain)) {
            return changed("The entries of a chain do not follow each other.", where_);
        }
        contents_.entries.insert(contents_.entries.end(), chain.begin(), chain.end());
        return {};
    }

    Result<void> read_words(std::string_view text) {
        for (const std::string_view line : lines_of(text)) {
            const auto words = digest::read_canonical(line, where_);
            if (!words) return refused(words.error());
            contents_.words.push_back({text_in(*words, "commitment"), text_in(*words, "customer"),
                                       bytes_in(*words, "box")});
        }
        return {};
    }

    std::string_view where_;
    std::map<std::string, std::string> parts_;
    std::map<std::string, std::string> customer_of_;
    Document manifest_;
    Contents contents_;
};

}  // namespace

std::set<std::string> pinned_by(const std::vector<Written>& entries) {
    std::set<std::string> pins;
    for (const Written& written : entries) {
        if (const auto* opened = std::get_if<record::JobOpened>(&written.entry.body)) pins.insert(opened->checklist_hash);
    }
    return pins;
}

Result<std::vector<Part>> parts_of(const Contents& contents, const digest::DeviceKey& maker) {
    auto parts = content_parts(contents);
    if (!parts) return parts;
    Document files = Document::array();
    for (const Part& part : *parts) {
        Document file = Document::object();
        file.set("name", Document{part.name})
            .set("sha256", Document{digest::sha256_hex(part.bytes)});
        const auto owner = std::find_if(
            contents.files.begin(), contents.files.end(),
            [&](const store::LockedFile& each) { return "files/" + each.id == part.name; });
        if (owner != contents.files.end()) file.set("customer", Document{owner->customer});
        files.add(std::move(file));
    }
    Document heads = Document::array();
    for (const record::SignedHead& head : contents.heads) heads.add(head_line(head));
    Document manifest = Document::object();
    manifest.set("files", std::move(files))
        .set("format", Document{bundle_format})
        .set("heads", std::move(heads))
        .set("maker", Document{contents.maker})
        .set("public_key", Document{digest::to_hex(maker.public_key)});
    if (contents.keys) manifest.set("salt", Document{digest::to_hex(contents.keys->salt)});
    auto text = digest::canonical_text(manifest);
    if (!text) return refused(text.error());
    const std::string signature = digest::to_hex(digest::sign(maker, claim_of(*text)));
    parts->insert(parts->begin(),
                  {{"manifest.json", std::move(*text)}, {"manifest.sig", signature}});
    return parts;
}

Result<Contents> contents_of(std::string_view bytes, std::string_view where) {
    auto parts = unpacked(bytes, where);
    if (!parts) return refused(parts.error());
    return Unpacking{std::move(*parts), where}.contents();
}

Result<LockedKeys> locked_keys(const CustomerKeys& keys, std::string_view passphrase,
                               const store::RandomBytes& random) {
    Document document = Document::object();
    for (const auto& [id, key] : keys) document.set(id, Document{digest::to_hex(key)});
    const auto text = digest::canonical_text(document);
    if (!text) return refused(text.error());
    LockedKeys locked{random(16), {}};
    auto key = digest::key_of_passphrase(passphrase, locked.salt);
    if (!key) return refused(key.error());
    auto box = digest::lock({std::move(*key), std::string{keys_purpose}},
                            random(digest::box_nonce_bytes), *text);
    if (!box) return refused(box.error());
    locked.box = std::move(*box);
    return locked;
}

Result<CustomerKeys> unlocked_keys(const LockedKeys& locked, std::string_view passphrase,
                                   std::string_view where) {
    auto key = digest::key_of_passphrase(passphrase, locked.salt);
    if (!key) return refused(key.error());
    const auto text =
        digest::unlock({std::move(*key), std::string{keys_purpose}}, locked.box, where);
    if (!text) return refused(text.error());
    const auto document = digest::read_canonical(*text, where);
    if (!document) return refused(document.error());
    CustomerKeys keys;
    if (document->members() == nullptr) return keys;
    for (const auto& [id, value] : *document->members()) {
        const std::string* digits = value.text();
        keys[id] = digits == nullptr ? "" : digest::from_hex(*digits).value_or("");
    }
    return keys;
}

}  // namespace wm::exchange
