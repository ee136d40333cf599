#include "record/signed_ends.hpp"

#include <set>
#include <string_view>
#include <utility>

namespace wm::record {

std::vector<Head> signed_by_nobody(std::span<const Written> entries, std::span<const SignedHead> heads) {
    std::set<std::pair<std::string_view, std::string_view>> settled;  // device and hash: continued or signed
    for (const Written& written : entries) settled.emplace(written.entry.device, written.entry.prev);
    for (const SignedHead& head : heads)
        if (is_genuine(head)) settled.emplace(head.head.device, head.head.hash);
    std::vector<Head> open;
    for (const Written& written : entries)
        if (!settled.contains({written.entry.device, written.hash}))
            open.push_back({written.entry.device, written.entry.seq, written.hash});
    return open;
}

}  // namespace wm::record
