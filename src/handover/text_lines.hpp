// Content lines, as calendar and contact files have them.
#pragma once

#include <string>
#include <string_view>

#include "handover/pdf_book.hpp"

namespace wm::handover {

/// Appends one line with CRLF, folded at 75 octets so that no letter of several bytes is cut.
/// Source: RFC 5545, section 3.1; RFC 2426, section 2.6.
void add_line(std::string& file, std::string_view line);

/// Text as a value: backslash, semicolon, comma and line break escaped, other controls left out.
[[nodiscard]] std::string escaped(std::string_view text);

/// Only what a UID may hold without escaping; anything else becomes its code in hexadecimal.
[[nodiscard]] std::string uid_part(std::string_view text);

/// "20270303T223000Z".
[[nodiscard]] std::string utc_stamp(const Moment& moment);

}  // namespace wm::handover
