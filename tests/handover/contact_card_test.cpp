#include "handover/contact_card.hpp"

#include <doctest/doctest.h>

// Two other libraries read the card in tests/whole/calendar_check.py.

using namespace wm::handover;

TEST_CASE("a telephone number is found in the line that page one prints") {
    CHECK(telephone_in("555-0100, Ostervaun, every day from 8 to 18") == "555-0100");
    CHECK(telephone_in("call +49 (0)30 / 555 01 00 now") == "+49 (0)30 / 555 01 00");
    CHECK(telephone_in("every day from 8 to 18") == "");
    CHECK(telephone_in("house 7, 555-0142") == "555-0142");
    CHECK(telephone_in("") == "");
}

TEST_CASE("the card names company, number, address and the whole line") {
    const std::string card = contact_card({.company = "Bramblewisp; Crews",
                                           .contact = "555-0100, from 8 to 18",
                                           .email = "office@example.org",
                                           .id = "company-1",
                                           .written = {2027, 3, 4, 0, 30, 0, 120}});
    CHECK(card ==
          "BEGIN:VCARD\r\nVERSION:3.0\r\nPRODID:-//Witnessmark//Contact//EN\r\n"
          "N:Bramblewisp\\; Crews;;;;\r\nFN:Bramblewisp\\; Crews\r\nORG:Bramblewisp\\; Crews\r\n"
          "TEL;TYPE=WORK,VOICE:555-0100\r\nEMAIL;TYPE=INTERNET:office@example.org\r\n"
          "NOTE:Solar water heater. 555-0100\\, from 8 to 18\r\nUID:company-1@witnessmark\r\n"
          "REV:20270303T223000Z\r\nEND:VCARD\r\n");
}

TEST_CASE("a card without a number or an address has no line for it") {
    const std::string card = contact_card({.company = "B", .contact = "", .email = "", .id = "c", .written = {}});
    CHECK(card.find("TEL") == std::string::npos);
    CHECK(card.find("EMAIL") == std::string::npos);
}
