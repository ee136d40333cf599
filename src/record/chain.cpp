#include "record/chain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <queue>
#include <tuple>
#include <unordered_map>

#include "digest/hash.hpp"
#include "record/clock.hpp"
#include "record/in_parts.hpp"

namespace wm::record {
namespace {

using Chain = std::vector<Written*>;

/// Entries by device, each chain by sequence and then hash, repeats dropped.
std::map<std::string, Chain> chains_of(std::vector<Written>& entries) {
    std::map<std::string, Chain> chains;
    for (Written& written : entries) chains[written.entry.device].push_back(&written);
    for (auto& [device, chain] : chains) {
        std::sort(chain.begin(), chain.end(), [](const Written* a, const Written* b) {
            return std::tie(a->entry.seq, a->hash) < std::tie(b->entry.seq, b->hash);
        });
        const auto same = [](const Written* a, const Written* b) { return a->hash == b->hash; };
        chain.erase(std::unique(chain.begin(), chain.end(), same), chain.end());
    }
    return chains;
}

Link link_of(const Written& written) {
    const Entry& entry = written.entry;
    return {entry.device, entry.seq, entry.prev, written.hash, entry.time, entry.seq == 1 && starts_its_device(entry),
            std::holds_alternative<Unknown>(entry.body)};
}

/// One chain, by sequence and then hash, followed from its start.
class Follower {
public:
    Follower(std::span<const Link> chain, ChainReport& report)
        : chain_{chain}, report_{report}, is_sound_(chain.size()), is_continued_(chain.size()) {}

    void follow() {
        std::size_t before = 0, now = 0;  // where the entries of the number before, and of this one, begin
        for (std::size_t i = 0; i < chain_.size(); ++i) {
            if (chain_[i].seq != chain_[now].seq) {
                before = now;
                now = i;
            }
            if (chain_[i].is_unknown) ++report_.not_understood;
            if (chain_[i].seq == 1) start(i);
            else go_on(i, before, now);
        }
        tell_forks();
        for (std::size_t i = 0; i < chain_.size(); ++i)
            if (is_sound_[i] && !is_continued_[i])
                report_.heads.push_back({std::string{chain_[i].device}, chain_[i].seq, std::string{chain_[i].hash}});
        report_.entries += chain_.size();
    }

private:
    void start(std::size_t i) {
        is_sound_[i] = chain_[i].starts_device;
        if (!is_sound_[i]) tell("Device {}: its first entry is not the start of this device.", i);
    }

    // The entry it names stands among those of the number before it, or something is wrong.
    void go_on(std::size_t i, std::size_t before, std::size_t now) {
        const Link& link = chain_[i];
        for (std::size_t k = before; k < now; ++k) {
            if (chain_[k].seq != link.seq - 1 || chain_[k].hash != link.prev) continue;
            if (!is_sound_[k]) return;  // told already
            if (chain_[k].time < link.time) is_sound_[i] = is_continued_[k] = true;
            else tell_out_of_order(i);
            return;
        }
        const auto named = place_of(link.prev);
        if (!named) {
            report_.broken.push_back(fmt::format("Device {}: entry {} continues an entry that is not here.", link.device, link.seq));
        } else if (is_sound_[*named]) {
            tell_out_of_order(i);
        }
    }

    void tell_out_of_order(std::size_t i) {
        report_.broken.push_back(fmt::format("Device {}: entry {} does not follow the entry it names in number and time.",
                                             chain_[i].device, chain_[i].seq));
    }

    void tell(fmt::format_string<const std::string_view&> words, std::size_t i) {
        report_.broken.push_back(fmt::format(words, chain_[i].device));
    }

    void tell_forks() {
        for (std::size_t i = 0, end = 0; i < chain_.size(); i = end) {
            while (end < chain_.size() && chain_[end].seq == chain_[i].seq) ++end;
            if (end - i < 2) continue;
            Fork fork{std::string{chain_[i].device}, chain_[i].seq, {}};
            for (std::size_t k = i; k < end; ++k) fork.hashes.emplace_back(chain_[k].hash);
            report_.forks.push_back(std::move(fork));
        }
    }

    std::optional<std::size_t> place_of(std::string_view hash) {
        if (by_hash_.empty())
            for (std::size_t i = 0; i < chain_.size(); ++i) by_hash_.emplace(chain_[i].hash, i);
        const auto found = by_hash_.find(hash);
        return found == by_hash_.end() ? std::nullopt : std::optional{found->second};
    }

    std::span<const Link> chain_;
    ChainReport& report_;
    std::vector<bool> is_sound_, is_continued_;
    std::unordered_map<std::string_view, std::size_t> by_hash_;  ///< made when a chain does not simply go on
};

/// Chains being merged: one cursor each.
class Merge {
public:
    explicit Merge(const std::map<std::string, Chain>& chains) {
        for (const auto& [device, chain] : chains) {
            cursors_[device] = {&chain, 0};
            ready_.push(chain.front());
        }
    }

    Written* next() {
        std::vector<Written*> held;
        Written* chosen = nullptr;
        while (chosen == nullptr && !ready_.empty()) {
            Written* first = ready_.top();
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
        for (Written* each : held) ready_.push(each);
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
    std::priority_queue<Written*, std::vector<Written*>, Later> ready_;
    std::vector<Written*> chosen_one_;
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

bool starts_its_device(const Entry& entry) {
    const auto* started = std::get_if<DeviceStarted>(&entry.body);
    if (started == nullptr || entry.prev != no_hash() || started->device != entry.device)
        return false;
    const auto key = digest::from_hex(started->public_key);
    return key && digest::device_id(*key) == entry.device;
}

ChainReport verify_links(std::vector<Link> links) {
    const auto place = [](const Link& link) { return std::tie(link.device, link.seq, link.hash); };
    const auto earlier = [&](const Link& a, const Link& b) { return place(a) < place(b); };
    if (!std::is_sorted(links.begin(), links.end(), earlier)) std::sort(links.begin(), links.end(), earlier);
    const auto same = [](const Link& a, const Link& b) { return a.device == b.device && a.hash == b.hash; };
    links.erase(std::unique(links.begin(), links.end(), same), links.end());
    ChainReport report;
    for (std::size_t first = 0, end = 0; first < links.size(); first = end) {
        while (end < links.size() && links[end].device == links[first].device) ++end;
        Follower{std::span{links}.subspan(first, end - first), report}.follow();
    }
    return report;
}

ChainReport verify_links(std::span<const Written> entries) {
    std::vector<Link> links;
    links.reserve(entries.size());
    for (const Written& written : entries) links.push_back(link_of(written));
    return verify_links(std::move(links));
}

ChainReport verify_chains(std::span<const Written> entries) {
    std::vector<char> is_sound(entries.size());
    in_parts(entries.size(), [&](std::size_t first, std::size_t end) {
        for (std::size_t i = first; i < end; ++i) {
            const auto hash = hash_of(entries[i].entry);
            is_sound[i] = hash && *hash == entries[i].hash ? 1 : 0;
        }
    });
    std::vector<Link> links;
    links.reserve(entries.size());
    std::vector<std::string> changed;
    for (std::size_t i = 0; i < entries.size(); ++i) {
        if (is_sound[i] != 0) links.push_back(link_of(entries[i]));
        else
            changed.push_back(fmt::format("Device {}: entry {} is not what its hash was made of.", entries[i].entry.device,
                                          entries[i].entry.seq));
    }
    ChainReport report = verify_links(std::move(links));
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
    // What was given out is not looked at again.
    while (Written* next = merge.next()) ordered.push_back(std::move(*next));
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
