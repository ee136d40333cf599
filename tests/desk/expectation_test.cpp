#include "desk/expectation.hpp"

#include "desk/paper_journal.hpp"

namespace wm::desk {

using testing::house_facts;
using testing::PaperJournal;
using testing::tools;

namespace {

const std::string place = "site.sun_share = 0.66\nsite.air_jan_c = 3\nsite.air_jul_c = 19\n";
const std::string energy = "energy.price = 0.24\nenergy.currency = \"crowns\"\nenergy.co2_kg = 0.35\nenergy.co2_year = 2025\n";

handover::Expectation expected(const std::string& more, const std::string& without = "") {
    const PaperJournal journal{house_facts(more + tools(), without), "commissioning"};
    return expectation_of(journal.hand(), journal.view(), "2026-11-25");
}

std::string all_of(const handover::Expectation& expectation) {
    std::string words;
    for (const auto* lines : {&expectation.year, &expectation.today, &expectation.assumptions})
        for (const auto& line : *lines) words += line.label + ": " + line.text + "\n";
    for (const auto* lines : {&expectation.see_for_yourself, &expectation.left_out})
        for (const auto& line : *lines) words += line + "\n";
    return words;
}

}  // namespace

TEST_CASE("the year is a band within what such sets bring, in energy, money and carbon dioxide") {
    const auto expectation = expected(place + energy);
    REQUIRE(expectation.months.size() == 12);
    double low = 0.0, high = 0.0;
    for (const auto& month : expectation.months) {
        CAPTURE(month.name);
        CHECK(month.low_kwh > 0.0);
        CHECK(month.low_kwh < month.high_kwh);
        CHECK(month.high_kwh <= month.needed_kwh);
        low += month.low_kwh;
        high += month.high_kwh;
    }
    // Source: yields of thermosiphon sets, some 350 to 850 kWh a year for each m² over the sunny
    // countries, from memory. This house stands high, in much sun, so the band may reach above.
    CHECK(low > 2.0 * 350.0);
    CHECK(low < 2.0 * 850.0);
    CHECK(high < 2.0 * 1300.0);
    REQUIRE(expectation.year.size() == 4);
    CHECK(expectation.year[0].text.find(" to ") != std::string::npos);
    CHECK(expectation.year[2].text.find("crowns a year, at 0.24 for a kilowatt-hour") != std::string::npos);
    CHECK(expectation.year[3].text.find("0.35 kg for a kilowatt-hour in 2025") != std::string::npos);
    CHECK(expectation.left_out.empty());
}

TEST_CASE("what is not known is named and left out, not guessed") {
    const auto dark = expected(energy);
    CHECK(dark.months.empty());
    CHECK(dark.year.empty());
    REQUIRE(dark.left_out.size() == 1);
    CHECK(dark.left_out[0] ==
          "The year is not estimated, for lack of: mean air temperature of January; mean air temperature of July; share of "
          "the daylight with bright sun over the year.");
    const auto poor = expected(place);
    CHECK(poor.months.size() == 12);
    CHECK(poor.year.size() == 2);
    CHECK(poor.left_out.size() == 2);
    CHECK(all_of(poor).find("crowns") == std::string::npos);
    CHECK(expected(place + energy, "customer.household").months.empty());
}

TEST_CASE("nothing is promised, and the month after the handover can be looked at") {
    const auto expectation = expected(place + energy + "sys.controller = \"temperature\"\n", "sys.controller");
    const std::string words = all_of(expectation);
    for (const std::string promise : {"will save", "guarantee", "promise", "you will"}) CHECK(words.find(promise) == std::string::npos);
    REQUIRE(expectation.see_for_yourself.size() == 3);
    CHECK(expectation.see_for_yourself[0].find("last day of December") != std::string::npos);
    CHECK(expectation.see_for_yourself[1].find("call us") != std::string::npos);
    CHECK(expectation.see_for_yourself[2].find("°C or more") != std::string::npos);
    // Without a display nobody is sent to look at one, or onto the roof.
    CHECK(expected(place + energy).see_for_yourself.size() == 2);
}

TEST_CASE("a collector that was measured elsewhere is estimated where it stands") {
    PaperJournal journal{house_facts(place + energy + tools()), "commissioning"};
    const auto& tilt = *journal.hand().list->find(checklist::CheckId{"coll-tilt"});
    REQUIRE(journal.read(tilt, "", "33 °"));
    CHECK(all_of(expectation_of(journal.hand(), journal.view(), "2026-11-25")).find("tilted 33°") != std::string::npos);
    REQUIRE(journal.read(tilt, "", "50 °"));
    CHECK(all_of(expectation_of(journal.hand(), journal.view(), "2026-11-25")).find("tilted 35°") != std::string::npos);
}

TEST_CASE("what was measured today stands beside it, as it came out") {
    PaperJournal journal{house_facts(place + tools()), "commissioning"};
    const auto& sun = *journal.hand().list->find(checklist::CheckId{"sun-window"});
    CHECK(all_of(expectation_of(journal.hand(), journal.view(), "2026-11-25")).find("not measured today") != std::string::npos);
    REQUIRE(journal.read(sun, "", "0 min=80 W/m²; 5 min=85; 10 min=90; 15 min=80; 20 min=85"));
    const auto today = expectation_of(journal.hand(), journal.view(), "2026-11-25").today;
    REQUIRE_FALSE(today.empty());
    CAPTURE(today[0].text);
    CHECK_FALSE(today[0].text.starts_with("conforms"));
    CHECK(today[0].text.find("84 W/m²") != std::string::npos);
}

}  // namespace wm::desk
