#include "record/chain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <queue>
#include <set>
#include <tuple>
#include <unordered_map>

#include "digest/hash.hpp"
#include "record/clock.hpp"

namespace wm::record {
namespace {

using Chain = std::vector<const Written*>;

/// Entries by device, each chain by sequence and then hash, repeats dropped.
std::map<std::string, Chain> chains_of(std::span<const Written> entries) {
    std::map<std::string, Chain> chains;
    for (const Written& written : entries) chains[written.entry.device].push_back(&written);
    for (auto& [device, chain] : chains) {
        std::sort(chain.begin(), chain.end(), [](const Written* a, const Written* b) {
            return std::tie(a->entry.seq, a->hash) < std::tie(b->entry.seq, b->hash);
        });
        const auto same = [](const Written* a, const Written* b) { return a->hash == b->hash; };
        chain.erase(std::unique(chain.begin(), chain.end(), same), chain.end());
    }
    return chains;
}

bool starts_its_device(const Entry& entry) {
    const auto* started = std::get_if<DeviceStarted>(&entry.body);
    if (started == nullptr || entry.prev != no_hash() || started->device != entry.device)
        return false;
    const auto key = digest::from_hex(started->public_key);
    return key && digest::device_id(*key) == entry.device;
}

/// Follows one chain and adds what is true of it to the report.
void follow(const std::string& device, const Chain& chain, ChainReport& report) {
    std::unordered_map<std::string_view, const Written*> sound;
    std::set<std::string_view> continued;
    std::set<std::string_view> present;
    std::map<std::int64_t, std::vector<std::string>> by_seq;
    for (const Written* each : chain) present.insert(each->hash);
    for (const Written* each : chain) {
        const Entry& entry = each->entry;
        by_seq[entry.seq].push_back(each->hash);
        if (std::holds_alternative<Unknown>(entry.body)) ++report.not_understood;
        if (entry.seq == 1) {
            if (starts_its_device(entry)) {
                sound.emplace(each->hash, each);
            } else {
                report.broken.push_back(fmt::format(
                    "Device {}: its first entry is not the start of this device.", device));
            }
            continue;
        }
        const auto before = sound.find(entry.prev);
        if (before != sound.end() && before->second->entry.seq == entry.seq - 1 &&
            before->second->entry.time < entry.time) {
            sound.emplace(each->hash, each);
            continued.insert(entry.prev);
        } else if (before != sound.end()) {
            report.broken.push_back(fmt::format(
                "Device {}: entry {} does not follow the entry it names in number and time.",
                device, entry.seq));
        } else if (!present.contains(entry.prev)) {
            report.broken.push_back(fmt::format(
                "Device {}: entry {} continues an entry that is not here.", device, entry.seq));
        }
    }
    for (auto& [seq, hashes] : by_seq) {
        if (hashes.size() > 1) report.forks.push_back({device, seq, std::move(hashes)});
    }
    for (const Written* each : chain) {
        if (sound.contains(each->hash) && !continued.contains(each->hash)) {
            report.heads.push_back({device, each->entry.seq, each->hash});
        }
    }
    report.entries += chain.size();
}

/// Chains being merged: one cursor each.
class Merge {
public:
    explicit Merge(const std::map<std::string, Chain>& chains) {
        for (const auto& [device, chain] : chains) {
            cursors_[device] = {&chain, 0};
            ready_.push(chain.front());
        }
    }

    const Written* next() {
        std::vector<const Written*> held;
        const Written* chosen = nullptr;
        while (chosen == nullptr && !ready_.empty()) {
            const Written* first = ready_.top();
            ready_.pop();
            (waits(*first) ? held : chosen_one_).push_back(first);
            if (!chosen_one_.empty()) {
                chosen = chosen_one_.back();
                chosen_one_.clear();
            }
        }
        // Only entries that lie about each other can all wait; then time decides.
        if (chosen == nullptr && !held.empty()) {
            chosen = held.front();
            held.erase(held.begin());
        }
        for (const Written* each : held) ready_.push(each);
        if (chosen != nullptr) advance(chosen->entry.device);
        return chosen;
    }

private:
    struct Cursor {
        const Chain* chain = nullptr;
        std::size_t at = 0;
    };
    struct Later {
        bool operator()(const Written* a, const Written* b) const {
            return std::tie(a->entry.time, a->entry.device, a->entry.seq, a->hash) >
                   std::tie(b->entry.time, b->entry.device, b->entry.seq, b->hash);
        }
    };

    /// True while an entry that the writer had received is still to come.
    [[nodiscard]] bool waits(const Written& written) const {
        const auto* received = std::get_if<Received>(&written.entry.body);
        if (received == nullptr) return false;
        return std::any_of(received->heads.begin(), received->heads.end(), [&](const Head& head) {
            const auto cursor = cursors_.find(head.device);
            if (head.device == written.entry.device || cursor == cursors_.end()) return false;
            const auto& [chain, at] = cursor->second;
            return at < chain->size() && (*chain)[at]->entry.seq <= head.seq;
        });
    }

    void advance(const std::string& device) {
        Cursor& cursor = cursors_[device];
        if (++cursor.at < cursor.chain->size()) ready_.push((*cursor.chain)[cursor.at]);
    }

    std::map<std::string, Cursor> cursors_;
    std::priority_queue<const Written*, std::vector<const Written*>, Later> ready_;
    std::vector<const Written*> chosen_one_;
};

}  // namespace

const std::string& no_hash() {
    static const std::string zeros(64, '0');
    return zeros;
}

Result<std::string> hash_of(const Entry& entry) {
    const auto line = line_of(entry);
    if (!line) return line;
    return digest::sha256_hex(*line);
}

Result<std::vector<Written>> chained(const Head& head, std::string_view first_time,
                                     std::vector<Draft> drafts) {
    const auto first = stamp_of(first_time);
    if (!first) {
        return refused({.what = fmt::format("\"{}\" is no time stamp.", first_time),
                        .where = "new entry",
                        .what_to_do = "Check the clock of this device.",
                        .kind = ProblemKind::WrongUse});
    }
    std::vector<Written> written;
    Stamp stamp = *first;
    std::int64_t seq = head.seq;
    std::string prev = head.seq == 0 ? no_hash() : head.hash;
    for (Draft& draft : drafts) {
        Entry entry{head.device,          ++seq,
                    std::move(prev),      text_of(stamp),
                    std::move(draft.job), std::move(draft.body)};
        auto hash = hash_of(entry);
        if (!hash) return refused(hash.error());
        prev = *hash;
        written.push_back({std::move(entry), std::move(*hash)});
        stamp = next_stamp(stamp, stamp.wall_ms);
    }
    return written;
}

ChainReport verify_links(std::span<const Written> entries) {
    ChainReport report;
    for (const auto& [device, chain] : chains_of(entries)) follow(device, chain, report);
    return report;
}

ChainReport verify_chains(std::span<const Written> entries) {
    std::vector<Written> sound;
    std::vector<std::string> changed;
    for (const Written& written : entries) {
        const auto hash = hash_of(written.entry);
        if (hash && *hash == written.hash) {
            sound.push_back(written);
        } else {
            changed.push_back(fmt::format("Device {}: entry {} is not what its hash was made of.",
                                          written.entry.device, written.entry.seq));
        }
    }
    ChainReport report = verify_links(sound);
    report.broken.insert(report.broken.begin(), changed.begin(), changed.end());
    return report;
}

std::vector<Head> heads_of(std::span<const Written> entries) {
    return verify_links(entries).heads;
}

std::vector<Written> in_order(std::vector<Written> entries) {
    const auto chains = chains_of(entries);
    Merge merge{chains};
    std::vector<Written> ordered;
    ordered.reserve(entries.size());
    while (const Written* next = merge.next()) ordered.push_back(*next);
    return ordered;
}

std::string head_claim(const Head& head) {
    return fmt::format("witnessmark head\n{}\n{}\n{}\n", head.device, head.seq, head.hash);
}

std::string device_claim(std::string_view device, std::string_view public_key) {
    return fmt::format("witnessmark device\n{}\n{}\n", device, digest::to_hex(public_key));
}

std::string revocation_claim(std::string_view device, std::int64_t from_seq) {
    return fmt::format("witnessmark revoked\n{}\n{}\n", device, from_seq);
}

SignedHead signed_head(const Head& head, const digest::DeviceKey& key) {
    return {head, key.public_key, digest::sign(key, head_claim(head))};
}

bool is_genuine(const SignedHead& head) {
    return digest::device_id(head.public_key) == head.head.device &&
           digest::is_signed_by(head.public_key, head_claim(head.head), head.signature);
}

Result<std::string> chain_file(std::span<const Written> chain) {
    std::string file;
    for (const Written& written : chain) {
        const auto line = line_of(written.entry);
        if (!line) return line;
        file += fmt::format("{}  {}\n", written.hash, *line);
    }
    return file;
}

}  // namespace wm::record
