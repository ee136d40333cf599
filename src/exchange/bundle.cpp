#include "exchange/bundle.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "exchange/archive.hpp"
#include "exchange/contents.hpp"
#include "digest/hash.hpp"
#include "record/state.hpp"
#include "store/pins.hpp"

namespace wm::exchange {
namespace {

using record::Head;
using record::Written;

/// First sequence the receiver does not have. A head that is not in our chain is no help: the whole
/// chain is sent.
Result<std::int64_t> first_needed(const store::Journal& journal, const std::string& device,
                                  const std::vector<Head>& since) {
    for (const Head& head : since) {
        if (head.device != device) continue;
        const auto at = journal.read_chain(device, head.seq);
        if (!at) return refused(at.error());
        const bool is_ours = std::any_of(at->entries.begin(), at->entries.end(),
                                         [&](const Written& w) { return w.hash == head.hash; });
        if (is_ours) return head.seq + 1;
    }
    return 1;
}

Result<std::vector<Written>> entries_since(const store::Journal& journal,
                                           const std::vector<Head>& heads,
                                           const std::vector<Head>& since) {
    std::set<std::string> devices;
    for (const Head& head : heads) devices.insert(head.device);
    std::vector<Written> all;
    for (const std::string& device : devices) {
        const auto first = first_needed(journal, device, since);
        if (!first) return refused(first.error());
        auto chain = journal.read_chain(device, *first);
        if (!chain) return refused(chain.error());
        if (!chain->damaged.empty()) {
            return refused(
                {.what =
                     fmt::format("A damaged journal is not passed on: {}", chain->damaged.front()),
                 .where = fmt::format("device {}", device),
                 .what_to_do = "Check the journal, and take the entry from another device.",
                 .kind = ProblemKind::Refused});
        }
        all.insert(all.end(), std::make_move_iterator(chain->entries.begin()),
                   std::make_move_iterator(chain->entries.end()));
    }
    return all;
}

/// Only keys that open something in this bundle travel.
CustomerKeys keys_for(const Contents& contents, const store::Keys& keys) {
    CustomerKeys needed;
    const auto add = [&](const std::string& customer) {
        if (auto key = keys.customer(customer)) needed.emplace(customer, std::move(*key));
    };
    for (const store::LockedWords& words : contents.words) add(words.customer);
    for (const store::LockedFile& file : contents.files) add(file.customer);
    return needed;
}

std::vector<ConflictFound> conflicts_of(const std::vector<Written>& fresh,
                                        const store::Journal& journal) {
    std::set<std::string> jobs;
    for (const Written& written : fresh) {
        if (!written.entry.job.empty()) jobs.insert(written.entry.job);
    }
    std::vector<ConflictFound> found;
    for (const std::string& job : jobs) {
        const auto entries = journal.read_job(job);
        if (!entries) continue;
        const record::JobState state = record::folded(job, entries->entries);
        for (const auto& [id, check] : state.checks) {
            for (const record::Conflict& conflict : check.conflicts) {
                found.push_back({job, id, conflict.place});
            }
        }
    }
    return found;
}

/// A list that is not here any more cannot travel; a changed one must not.
Result<std::vector<std::string>> pins_for(const std::vector<Written>& entries, const store::Journal& journal) {
    std::vector<std::string> pins;
    for (const std::string& hash : pinned_by(entries)) {
        const auto here = store::has_pin(journal.folder(), hash, journal.disk());
        if (!here) return refused(here.error());
        if (!*here) continue;
        auto text = store::read_pin(journal.folder(), hash, journal.disk());
        if (!text) return refused(text.error());
        pins.push_back(std::move(*text));
    }
    return pins;
}

/// The hashes of those that were not here before.
Result<std::vector<std::string>> keep_pins(const std::vector<std::string>& pins, const store::Journal& journal) {
    std::vector<std::string> kept;
    for (const std::string& pin : pins) {
        const auto here = store::has_pin(journal.folder(), digest::sha256_hex(pin), journal.disk());
        if (!here) return refused(here.error());
        auto hash = store::keep_pin(journal.folder(), pin, journal.disk());
        if (!hash) return refused(hash.error());
        if (!*here) kept.push_back(std::move(*hash));
    }
    return kept;
}

/// Devices of the entries that have no chain here.
Result<std::vector<std::string>> strangers_among(const std::vector<Written>& entries, const store::Journal& journal) {
    const auto heads = journal.heads();
    if (!heads) return refused(heads.error());
    std::set<std::string> devices;
    for (const Written& written : entries) devices.insert(written.entry.device);
    devices.erase(journal.device());
    for (const Head& head : *heads) devices.erase(head.device);
    return std::vector<std::string>{devices.begin(), devices.end()};
}

/// Whoever has a copy of the jobs could set up a folder without PINs, erase there, and bring that in here.
Result<void> no_erasure_by(const std::vector<std::string>& strangers, const std::vector<Written>& entries, const std::string& name) {
    for (const Written& written : entries) {
        if (!std::holds_alternative<record::CustomerErased>(written.entry.body)) continue;
        if (std::find(strangers.begin(), strangers.end(), written.entry.device) == strangers.end()) continue;
        return refused({.what = fmt::format("This bundle erases a customer in the name of device {}, which was not known here before.",
                                            written.entry.device),
                        .where = name,
                        .what_to_do = "Ask who made it. A lead takes it in under the own PIN.",
                        .kind = ProblemKind::Refused});
    }
    return {};
}

}  // namespace

Result<Packed> pack(const store::Journal& journal, const PackRequest& request) {
    const auto heads = journal.heads();
    if (!heads) return refused(heads.error());
    auto entries = entries_since(journal, *heads, request.since);
    if (!entries) return refused(entries.error());
    Contents contents;
    contents.maker = journal.device();
    contents.entries = std::move(*entries);
    auto signed_heads = journal.signed_heads();
    if (!signed_heads) return refused(signed_heads.error());
    contents.heads = std::move(*signed_heads);
    auto words = journal.words_of(contents.entries);
    if (!words) return refused(words.error());
    contents.words = std::move(*words);
    auto files = journal.files_of(contents.entries);
    if (!files) return refused(files.error());
    contents.files = std::move(*files);
    auto pins = pins_for(contents.entries, journal);
    if (!pins) return refused(pins.error());
    contents.pins = std::move(*pins);
    if (!request.passphrase.empty()) {
        auto locked =
            locked_keys(keys_for(contents, journal.keys()), request.passphrase, request.random);
        if (!locked) return refused(locked.error());
        contents.keys = std::move(*locked);
    }
    const auto parts = parts_of(contents, journal.keys().device());
    if (!parts) return refused(parts.error());
    auto bytes = packed(*parts);
    if (!bytes) return refused(bytes.error());
    return Packed{std::move(*bytes), contents.entries.size(), contents.files.size(), *heads};
}

Result<Unpacked> unpack(store::Journal& journal, std::string_view bytes,
                        const UnpackRequest& request) {
    auto contents = contents_of(bytes, request.name);
    if (!contents) return refused(contents.error());
    if (std::find(request.refused.begin(), request.refused.end(), contents->maker) != request.refused.end())
        return refused({.what = fmt::format("This bundle was made by device {}, which was refused here.", contents->maker),
                        .where = request.name,
                        .what_to_do = "Nothing was taken. If the device is one of ours after all, a lead accepts it first: witnessmark device accept.",
                        .kind = ProblemKind::Refused});
    store::Foreign foreign;
    if (contents->keys && !request.passphrase.empty()) {
        auto keys = unlocked_keys(*contents->keys, request.passphrase, request.name);
        if (!keys) return refused(keys.error());
        foreign.customer_keys = std::move(*keys);
    }
    Unpacked result;
    result.words_readable = !foreign.customer_keys.empty();
    auto strangers = strangers_among(contents->entries, journal);
    if (!strangers) return refused(strangers.error());
    if (!request.may_erase)
        if (auto fine = no_erasure_by(*strangers, contents->entries, request.name); !fine) return refused(fine.error());
    result.new_devices = std::move(*strangers);
    const auto lists = keep_pins(contents->pins, journal);
    if (!lists) return refused(lists.error());
    result.checklists = lists->size();
    foreign.entries = std::move(contents->entries);
    foreign.heads = std::move(contents->heads);
    foreign.words = std::move(contents->words);
    foreign.files = std::move(contents->files);
    auto merged = journal.merge(std::move(foreign), request.wall_ms);
    if (!merged) {
        Problem problem = merged.error();
        // What came with a refused bundle does not stay; if it cannot be taken away it is in nobody's way.
        for (const std::string& hash : *lists) static_cast<void>(store::drop_pin(journal.folder(), hash, journal.disk()));
        if (problem.where == "bundle") problem.where = request.name;
        return refused(std::move(problem));
    }
    result.new_entries = merged->fresh.size();
    result.known_entries = merged->known;
    result.forks = std::move(merged->forks);
    result.conflicts = conflicts_of(merged->fresh, journal);
    return result;
}

Result<BundleReport> attest_bundle(std::string_view bytes, std::string_view name) {
    const auto contents = contents_of(bytes, name);
    if (!contents) {
        if (contents.error().kind != ProblemKind::Refused) return refused(contents.error());
        BundleReport report;
        report.reasons.push_back(contents.error().what);
        return report;
    }
    BundleReport report;
    report.genuine = true;
    report.maker = contents->maker;
    for (const record::SignedHead& head : contents->heads) report.heads.push_back(head.head);
    report.entries = contents->entries.size();
    report.attachments = contents->files.size();
    return report;
}

}  // namespace wm::exchange
