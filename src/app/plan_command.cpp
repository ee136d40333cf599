// `plan`: the jobs of the days ahead.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/day_plan.hpp"
#include "units/calendar.hpp"

namespace wm::app {

namespace {

Json as_json(const desk::DayPlan& plan) {
    Json jobs = Json::array();
    for (const auto& job : plan.jobs)
        jobs.push_back({{"day", job.day}, {"job", job.job}, {"checklist", job.checklist}, {"place", job.place}, {"crew", job.crew},
                        {"weather", job.weather}, {"not_in_order", job.not_in_order}, {"load", job.load}, {"instruments", job.instruments}});
    Json due = Json::array();
    for (const auto& each : plan.due) due.push_back(in_json(each));
    return {{"jobs", jobs}, {"due", due}};
}

std::string as_text(const desk::DayPlan& plan) {
    std::string text;
    for (const auto& job : plan.jobs) {
        text += fmt::format("{}  {:<14} {:<14} {} · {}\n", job.day, job.job, job.checklist, job.place, job.crew);
        for (const auto& line : job.weather) text += fmt::format("    {}\n", line);
        for (const auto& line : job.not_in_order) text += fmt::format("    NOT IN ORDER  {}\n", line);
        for (const auto& line : job.load) text += fmt::format("    load  {}\n", line);
        if (!job.instruments.empty()) text += fmt::format("    take  {}\n", fmt::join(job.instruments, ", "));
    }
    if (!plan.due.empty()) text += "Put off, due by then\n";
    for (const auto& each : plan.due) text += fmt::format("    {}  {:<14} {} · {}\n", each.until, each.job, each.title, each.owner);
    return text;
}

}  // namespace

Output run_plan(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (!has_journal(world) && form == Form::Json) return {document(as_json({})), "", 0};
    if (!has_journal(world)) return nothing_yet(world, "plan", form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const std::string first = arguments.value("from", desk::day_of(world.now()));
    const std::string last = arguments.value("until", units::day_after(first, 6).value_or(first));
    const auto plan = desk::day_plan(*desk, first, last, arguments.value("crew"));
    if (!plan) return told_as(plan.error(), form);
    Output output;
    if (arguments.has("out")) {
        const auto calendar = desk::calendar_of(*desk, *plan);
        if (!calendar) return told_as(calendar.error(), form);
        if (const auto written = write_file(arguments.value("out"), *calendar); !written) return told_as(written.error(), form);
        output.talk = fmt::format("The calendar lies in {}.\n", arguments.value("out"));
    }
    output.data = form == Form::Json ? document(as_json(*plan)) : as_text(*plan);
    if (plan->jobs.empty() && form != Form::Json)
        output.talk += fmt::format("No job has a day from {} to {}. Set one: witnessmark job facts JOB --set job.date=2027-03-18.\n", first, last);
    return output;
}

}  // namespace wm::app
