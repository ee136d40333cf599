// The care dates of a house as a calendar file.
#pragma once

#include <string>
#include <vector>

#include "handover/pdf_book.hpp"
#include "language/language.hpp"
#include "problem/result.hpp"

namespace wm::handover {

struct CalendarDate {
    std::string key;    ///< stable within the house: "yearly-service"; becomes part of the UID
    std::string date;   ///< "2027-10-01", a whole day
    std::string title;  ///< short
    std::string text;   ///< may be long, may have line breaks
    std::string place{};   ///< of this date alone; empty: that of the calendar
    int days_ahead = 7;    ///< of the reminder
};

struct CareCalendar {
    std::string house;  ///< lasting: the same for every job of the house; UIDs are made of it
    std::string job;
    std::string company;
    std::string place;
    Moment written;
    std::vector<CalendarDate> dates;
    std::string name{};  ///< of the calendar; empty: of the company's water heater
    language::Language language{};  ///< of that name
};

/// An iCalendar file: CRLF, lines folded at 75 octets between letters, text escaped, one all-day
/// event a date, a reminder some days before. UIDs follow from house and key alone and the sequence from
/// the moment, so that a later report moves the dates of an earlier one instead of doubling them. The same input gives the same bytes.
/// A problem for a date that is none or an empty key.
/// Source: RFC 5545, sections 3.1, 3.3.11, 3.6.1, 3.8.4.7, 3.8.7.4.
[[nodiscard]] Result<std::string> care_calendar(const CareCalendar& calendar);

}  // namespace wm::handover
