// What the text of a code on a plate says: article, serial number, batch and last day.
#pragma once

#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::desk {

struct PlateText {
    std::string article;  ///< global trade item number of 14 digits; "" where the code names none
    std::string serial, batch;
    std::string until;    ///< "2027-03-31"
    std::string plain;    ///< the whole text of a code that follows no rule
    friend bool operator==(const PlateText&, const PlateText&) = default;
};

/// The last digit of an article number is worked out from the others: weights 3 and 1 in turn from the right, up to the next
/// ten. Source: GS1 General Specifications, section 7.9 (from memory). False for anything but digits.
[[nodiscard]] bool check_digit_fits(std::string_view digits);

/// "(01)09506000134352(10)ABC", the same without brackets and with GS (0x1D) behind an element of free length where
/// `is_marked`, or a web address "https://id.example/01/09506000134352/10/ABC?17=270331". Any other text is plain. Unreadable:
/// a check digit that does not fit, a day that is none, an element that is cut off.
/// Source: GS1 General Specifications, element strings; GS1 Digital Link, URI syntax (both from memory).
[[nodiscard]] Result<PlateText> read_plate_text(std::string_view text, bool is_marked);

}  // namespace wm::desk
