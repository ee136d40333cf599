#include "store/rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>
#include <unordered_map>

#include "digest/hash.hpp"
#include "record/signed_ends.hpp"

namespace wm::store {
namespace {

using record::Entry;
using record::Written;

tl::unexpected<Problem> not_taken(std::string what, std::string to_do) {
    return refused({.what = std::move(what),
                    .where = "bundle",
                    .what_to_do = std::move(to_do),
                    .kind = ProblemKind::Refused});
}

/// What linking needs to know of an entry.
struct Link {
    std::string device;
    std::int64_t seq = 0;
    std::string time;
};

bool follows(const Entry& entry, const Link& before) {
    return before.device == entry.device && before.seq == entry.seq - 1 && before.time < entry.time;
}

/// Tells what of a bundle is new here, and whether every new entry continues something.
class Joining {
public:
    explicit Joining(const KnownEntries& kept) : kept_{kept} {}

    Result<Joined> of(std::vector<Written> entries) {
        std::sort(entries.begin(), entries.end(), [](const Written& a, const Written& b) {
            return std::tie(a.entry.device, a.entry.seq, a.hash) <
                   std::tie(b.entry.device, b.entry.seq, b.hash);
        });
        const auto same = [](const Written& a, const Written& b) { return a.hash == b.hash; };
        entries.erase(std::unique(entries.begin(), entries.end(), same), entries.end());
        Joined all;
        for (Written& written : entries) {
            const Entry& entry = written.entry;
            const auto known = stored({entry.device, entry.seq, written.hash});
            if (!known) return refused(known.error());
            Link link{entry.device, entry.seq, entry.time};
            if (*known) {
                ++all.known;
                links_.emplace(written.hash, std::move(link));
                continue;
            }
            if (auto joins_on = joins(written); !joins_on) return refused(joins_on.error());
            links_.emplace(written.hash, std::move(link));
            all.fresh.push_back(std::move(written));
        }
        return all;
    }

private:
    Result<std::optional<Link>> stored(const record::Head& entry) const {
        auto time = kept_.time_of(entry);
        if (!time) return refused(time.error());
        if (!*time) return std::nullopt;
        return Link{entry.device, entry.seq, std::move(**time)};
    }

    Result<void> joins(const Written& written) const {
        const Entry& entry = written.entry;
        if (entry.seq == 1) {
            if (record::verify_links({&written, 1}).is_sound()) return {};
            return not_taken(
                fmt::format("The chain of device {} does not begin with its start.", entry.device),
                "Nothing was taken. Have the bundle made again by the device itself.");
        }
        std::optional<Link> before;
        if (const auto found = links_.find(entry.prev); found != links_.end())
            before = found->second;
        if (!before) {
            auto found = stored({entry.device, entry.seq - 1, entry.prev});
            if (!found) return refused(found.error());
            before = std::move(*found);
        }
        if (before && follows(entry, *before)) return {};
        if (before) {
            return not_taken(
                fmt::format("Entry {} of device {} does not follow the one it names.", entry.seq,
                            entry.device),
                "Nothing was taken. Ask the device's owner what happened to its clock.");
        }
        return missing(entry);
    }

    tl::unexpected<Problem> missing(const Entry& entry) const {
        std::int64_t last = kept_.last_before(entry.device, entry.seq).value_or(0);
        if (last >= entry.seq - 1) last = entry.seq - 2;  // a fork whose beginning is not here
        return not_taken(
            fmt::format("Entries {} to {} of device {} are missing.", last + 1, entry.seq - 1,
                        entry.device),
            fmt::format("Nothing was taken. Take the earlier bundle first, or ask for one "
                        "that begins at entry {}.",
                        last + 1));
    }

    const KnownEntries& kept_;
    std::unordered_map<std::string, Link> links_;
};

}  // namespace

Result<void> check_content(const Foreign& foreign) {
    const std::string to_do = "Nothing was taken. Have the bundle made and carried over again.";
    for (const Written& written : foreign.entries) {
        const auto hash = record::hash_of(written.entry);
        if (!hash || *hash != written.hash) {
            return not_taken(fmt::format("Entry {} of device {} is not what its hash was made of.",
                                         written.entry.seq, written.entry.device),
                             to_do);
        }
    }
    for (const record::SignedHead& head : foreign.heads) {
        if (!record::is_genuine(head)) {
            return not_taken(fmt::format("The signature of the head of device {} does not fit.",
                                         head.head.device),
                             to_do);
        }
    }
    if (const auto open = record::signed_by_nobody(foreign.entries, foreign.heads); !open.empty()) {
        return not_taken(fmt::format("Entry {} of device {} is signed by nobody.", open.front().seq, open.front().device),
                         "Nothing was taken. Ask whoever has that device for a bundle made by it.");
    }
    for (const LockedFile& file : foreign.files) {
        if (digest::sha256_hex(file.bytes) != file.id) {
            return not_taken(fmt::format("The attachment {} was changed on its way.", file.id),
                             to_do);
        }
    }
    return {};
}

Result<Joined> joined(std::vector<Written> entries, const KnownEntries& known) {
    return Joining{known}.of(std::move(entries));
}

}  // namespace wm::store
