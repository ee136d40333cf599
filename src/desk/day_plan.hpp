// The days ahead: which job is on which day, what the weather must hold, what is not in order by then and what to load.
#pragma once

#include <string>
#include <vector>

#include "desk/view.hpp"
#include "problem/result.hpp"

namespace wm::desk {

class Desk;
struct JobInHand;

/// What a fact calls the day on which the crew comes.
inline constexpr std::string_view planned_day = "job.date";

/// Refused while the survey before this job is unfinished or finds the house not suited, with what it found. A job without a survey,
/// and a job that is itself a survey or a service, may have a day at once.
[[nodiscard]] Result<void> may_have_a_day(const JobInHand& before, std::string_view checklist);

struct PlannedJob {
    std::string day, job, checklist, place, crew;
    std::vector<std::string> weather;        ///< limits of this house: "at most 10 m/s, the roof is dry"
    std::vector<std::string> not_in_order;   ///< on that day: papers, instruments, gear, an unfinished kit
    std::vector<std::string> load;           ///< "10.7 m Copper pipe of the loop"
    std::vector<std::string> instruments;    ///< types its checks ask for
};

struct DayPlan {
    std::string first, last;       ///< days, both included
    std::vector<PlannedJob> jobs;  ///< by day, then by number
    std::vector<DueView> due;      ///< put off until a day up to the last
};

/// Open jobs with a day from `first` to `last`, both included, of one lead or of all where `crew` is empty. Practice jobs have none.
/// Unreadable where one is no date or the last lies before the first.
[[nodiscard]] Result<DayPlan> day_plan(Desk& desk, const std::string& first, const std::string& last, const std::string& crew);

/// The same as a calendar file, an event a job; a later one moves the days of an earlier one. Source: RFC 5545.
[[nodiscard]] Result<std::string> calendar_of(const Desk& desk, const DayPlan& plan);

}  // namespace wm::desk
