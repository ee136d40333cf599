// A survey of the invented demo town, for the tests of its report.
#pragma once

#include "handover/survey_report.hpp"

namespace wm::handover::testing {

/// The checks of the shipped survey, but the verdict; held to the list in tests/desk/survey_report_test.cpp.
inline const std::vector<std::string>& survey_check_ids() {
    static const std::vector<std::string> all = {
        "survey-consent", "tank-size-fit", "access-safe",   "asbestos-suspect",   "sun-azimuth",   "sun-pitch",      "sun-shade",
        "roof-free-area", "roof-covering-fit", "roof-soundness", "roof-members",  "roof-load",     "load-down",      "wind-exposure",
        "wind-tipping",   "frost-fit",     "water-supply",  "water-quality",      "heater-fit",    "heater-inlet-limit", "heater-relief",
        "heater-vented",  "elec-ready",    "pipe-route",    "discharge-route",    "lift-plan"};
    return all;
}

inline SurveyReport survey_sample(Suited suited) {
    SurveyReport report;
    report.job = "J-07-0031";
    report.company = "Witnessmark";
    report.contact = "555-0100";
    report.place = "14 Dovetail Steps, Ostervaun";
    report.date = "2026-11-25";
    report.surveyor = "Piet-Anouk Harrowell";
    report.suited = suited;
    if (suited == Suited::No)
        report.blocking = {{.check_id = "roof-load", .title = "The roof can carry it", .how = FoundHow::Wrong, .until = "", .on_fail = ""},
                           {.check_id = "heater-relief", .title = "Heater has a free relief", .how = FoundHow::Wrong, .until = "", .on_fail = ""}};
    if (suited != Suited::Yes)
        report.conditions = {{.check_id = "sun-pitch", .title = "Pitch of the roof", .how = FoundHow::Wrong, .until = "", .on_fail = ""}};
    report.plane = {{"This side of the roof", "looks south (185°), 30° steep"},
                    {"The set on it", "looks south (185°), 30° steep"},
                    {"The best side here", "looks south (180°), 34° steep"}};
    report.of_best_plane = 93;
    for (const char* name : {"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"})
        report.shade.push_back({name, 0.12});
    report.shade_read = 4;
    report.sun_band = "1100 to 1500 kWh";
    report.need_band = "2000 to 4000 kWh";
    report.expectation.assumptions = {{"Hot water", "30 to 60 litres a person and day for 4 persons (45 is usual), heated to 60 °C"},
                                      {"Collector", "2 m², tilted 30°, facing 185°, with figures usual for a flat collector"},
                                      {"Sun", "bright for 58 to 74 of 100 hours of daylight"},
                                      {"Cold water", "follows the air of the place over the year"}};
    report.expectation.left_out = {"Money: the price of a kilowatt-hour is not on record."};
    report.fingerprint = std::string(64, 'f');
    report.head = std::string(64, 'a');
    report.written = {2026, 11, 25, 15, 0, 0, 300};
    return report;
}

}  // namespace wm::handover::testing
