// A mail as it is sent: text and attached files, the same bytes at each try.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "problem/result.hpp"

namespace wm::post {

struct Attachment {
    std::string name;       ///< "handover-J-1.pdf"
    std::string mime_type;  ///< "application/pdf"
    std::string bytes;
};

struct Message {
    std::string from;                ///< one address
    std::string from_name;           ///< may be empty
    std::vector<std::string> to;     ///< one address at least
    std::string to_name;             ///< of the first, may be empty
    std::string subject;
    std::string text;                ///< plain text, UTF-8
    std::vector<Attachment> attachments;
    std::int64_t unix_seconds = 0;   ///< date, with the offset below
    int zone_minutes = 0;            ///< east of UTC
    std::string id;                  ///< "token@domain", the same at each try
};

/// The message in the form of RFC 5322 and MIME with CRLF line ends, no line over 998 bytes. Same
/// message, same bytes: the boundary is made from the id. Names and subject are encoded words
/// where they leave ASCII, and can begin no header (see header_text). Refused: a bad address, an
/// id with blanks, no recipient.
[[nodiscard]] Result<std::string> write_message(const Message& message);

}  // namespace wm::post
