// A week with two jobs, one of them not in order, and one check that was put off.
#pragma once

#include <string>

#include "desk/day_plan.hpp"
#include "units/calendar.hpp"

namespace wm::screens::testing {

inline desk::DayPlan a_day_plan(const std::string& first) {
    desk::DayPlan plan;
    plan.first = first;
    plan.last = units::day_after(first, 6).value();
    plan.jobs = {{.day = first, .job = "A-0121", .checklist = "commissioning", .place = "Lantern Row 7, Ostervaun", .crew = "Tindo Quellaby",
                  .weather = {"Weather lets people up: at most 10.0 m/s, the roof is dry, no ice, no thunder"},
                  .not_in_order = {"Instruments are in date: torque wrench TW-3 is due since 2027-03-01."},
                  .load = {"10.7 m Copper pipe of the loop, 22 mm outside", "? Brackets and fixings"},
                  .instruments = {"torque wrench", "two-channel thermometer"}},
                 {.day = units::day_after(first, 3).value(), .job = "A-0122", .checklist = "survey", .place = "Kettlemark Row 3", .crew = "",
                  .weather = {}, .not_in_order = {}, .load = {}, .instruments = {}}};
    plan.due = {{.job = "A-0109", .place = "Dovetail Lane 2", .check = "outlet-temp", .title = "Hot water at the tap", .until = first,
                 .owner = "Orla Finch", .why = "no sun", .days = 0}};
    return plan;
}

}  // namespace wm::screens::testing
