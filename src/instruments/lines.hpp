// What an instrument says in lines of text: numbers and identities in the forms of SCPI, and the patterns of a profile.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "instruments/fault.hpp"

namespace wm::instruments {

/// A decimal number as instruments send it: NR1, NR2 and NR3 of IEEE 488.2 ("480", "+480.5", "+4.805E+02"), blanks around it.
/// Nothing for anything else, an exponent beyond 99 included.
[[nodiscard]] std::optional<double> sent_number(std::string_view text);

/// The answer to a query. 9.9E37 and -9.9E37 say beyond the range, 9.91E37 not a number (SCPI 1999.0, from memory): such an
/// instrument answered, but has no reading.
[[nodiscard]] Answer<double> scpi_number(std::string_view line, const std::string& where);

/// The third of the four fields of *IDN? (IEEE 488.2, from memory): the serial number; "" where it is 0, which says none is
/// given. Again::Yes for a line that has not four fields.
[[nodiscard]] Answer<std::string> scpi_serial(std::string_view line, const std::string& where);

/// An answer to SYST:ERR? : `0,"No error"` is fine; any other is a fault with the instrument's words.
[[nodiscard]] Answer<void> scpi_error(std::string_view line, const std::string& where);

/// What stands in the place of {value} or {serial}. Behind the pattern nothing may follow but blanks. Before it anything may
/// stand only if the pattern begins with a word of its own: where it begins with the number, a digit of noise would be one more
/// digit of the reading.
[[nodiscard]] std::optional<std::string> found_in(std::string_view line, std::string_view pattern);

/// For messages: what cannot be printed as \xNN, at most 60 signs.
[[nodiscard]] std::string shown_bytes(std::string_view bytes);

}  // namespace wm::instruments
