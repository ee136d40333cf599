#include "digest/der.hpp"

#include <algorithm>

namespace wm::digest {

std::string der(char tag, std::string_view content) {
    std::string out{tag};
    if (content.size() < 128) {
        out += static_cast<char>(content.size());
    } else {
        std::string length;
        for (std::size_t rest = content.size(); rest > 0; rest >>= 8) {
            length.insert(length.begin(), static_cast<char>(rest & 0xffU));
        }
        out += static_cast<char>(0x80U | length.size());
        out += length;
    }
    return out.append(content);
}

std::string oid(std::string_view arcs) {
    return der(tag::object_id, arcs);
}

std::string set_of(std::vector<std::string> members) {
    std::sort(members.begin(), members.end());
    std::string content;
    for (const std::string& member : members) content += member;
    return content;
}

std::string positive_integer(std::string_view bytes) {
    while (bytes.size() > 1 && bytes.front() == '\0') bytes.remove_prefix(1);
    const bool looks_negative =
        !bytes.empty() && (static_cast<unsigned char>(bytes.front()) & 0x80U) != 0;
    return der(tag::integer, (looks_negative ? std::string(1, '\0') : std::string{}).append(bytes));
}

std::string ecdsa_sha256_oid() {
    return oid("\x2a\x86\x48\xce\x3d\x04\x03\x02");
}

}  // namespace wm::digest
