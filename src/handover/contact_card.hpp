// Whom to call, as a card for an address book.
#pragma once

#include <string>

#include "handover/pdf_book.hpp"
#include "language/language.hpp"

namespace wm::handover {

struct ContactCard {
    std::string company;
    std::string contact;  ///< as page one prints it: "555-0100, every day from 8 to 18"
    std::string email;
    std::string id;       ///< lasting: the same for each card of the company
    Moment written;
    language::Language language{};  ///< of the note
};

/// A vCard 3.0. A number in `contact` that looks like a telephone number becomes one; the whole line
/// stands in the note. The UID follows from `id` alone, so that a new card replaces the old one.
/// Source: RFC 2426, sections 3.1 to 3.6 (from memory).
[[nodiscard]] std::string contact_card(const ContactCard& card);

/// The first run in a text that looks like a telephone number: at least five digits, with blanks,
/// hyphens, a slash, brackets or a leading plus between them; "" if there is none.
[[nodiscard]] std::string telephone_in(const std::string& text);

}  // namespace wm::handover
