#include "handover/calendar.hpp"

#include <doctest/doctest.h>

using namespace wm;
using namespace wm::handover;

namespace {

CareCalendar sample() {
    return {"house-17",
            "J-07-0031",
            "Bramblewisp; Solar, Crews",
            "14 Dovetail Steps",
            {2027, 3, 4, 0, 30, 0, 120},
            {{"frost", "2027-10-01", "Frost check", "Look at the fluid,\nthen the lagging."},
             {"yearly", "2027-12-31", "Yearly service", ""}}};
}

std::string unfolded(std::string file) {
    for (std::size_t at = file.find("\r\n "); at != std::string::npos;
         at = file.find("\r\n ", at)) {
        file.erase(at, 3);
    }
    return file;
}

}  // namespace

TEST_CASE("each care date is a whole day with its own lasting UID") {
    const std::string file = *care_calendar(sample());
    CHECK(file.find("UID:house-17.frost@witnessmark\r\n") != std::string::npos);
    CHECK(file.find("DTSTART;VALUE=DATE:20271001\r\nDTEND;VALUE=DATE:20271002\r\n") !=
          std::string::npos);
    CHECK(file.find("DTSTART;VALUE=DATE:20271231\r\nDTEND;VALUE=DATE:20280101\r\n") !=
          std::string::npos);
    CHECK(file.find("DTSTAMP:20270303T223000Z\r\n") != std::string::npos);
}

TEST_CASE("text is escaped so that it cannot become a line or property of its own") {
    CareCalendar calendar = sample();
    calendar.dates[0].title = "a;b,c\\d\r\nATTENDEE:mailto:x";
    const std::string file = unfolded(*care_calendar(calendar));
    CHECK(file.find("SUMMARY:a\\;b\\,c\\\\d\\nATTENDEE:mailto:x\r\n") != std::string::npos);
    CHECK(file.find("\r\nATTENDEE") == std::string::npos);
    CHECK(file.find("X-WR-CALNAME:Bramblewisp\\; Solar\\, Crews: solar water heater") !=
          std::string::npos);
}

TEST_CASE("no line is longer than 75 octets and no letter is cut by a fold") {
    CareCalendar calendar = sample();
    calendar.dates[0].text.clear();
    for (int i = 0; i < 200; ++i) calendar.dates[0].text += i % 3 == 0 ? "Ω" : "ü€";
    const std::string file = *care_calendar(calendar);
    std::size_t from = 0;
    while (from < file.size()) {
        const std::size_t end = file.find("\r\n", from);
        REQUIRE(end != std::string::npos);
        CHECK(end - from <= 75);
        const auto first = static_cast<unsigned char>(file[from == 0 ? 0 : from + 1]);
        CHECK((first & 0xc0u) != 0x80u);
        from = end + 2;
    }
    CHECK(unfolded(file).find("DESCRIPTION:" + calendar.dates[0].text + "\r\n") !=
          std::string::npos);
}

TEST_CASE("a date that is none is refused by its title") {
    CareCalendar calendar = sample();
    for (const char* date :
         {"2027-02-30", "2027-13-01", "tomorrow", "", "2027-1-1", "2027/10/01"}) {
        CAPTURE(date);
        calendar.dates[0].date = date;
        CHECK(!care_calendar(calendar));
    }
    CHECK(told(care_calendar(calendar).error()) ==
          "calendar of job J-07-0031: The care date \"2027/10/01\" of \"Frost check\" is no date.\n"
          "Write it as year-month-day, for example 2027-10-01.");
}
