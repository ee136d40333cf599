// `due`: what was put off, over all jobs, the earliest day first.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"

namespace wm::app {

Output run_due(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (!has_journal(world)) return nothing_yet(world, "due", form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    auto due = desk->due();
    if (!due) return told_as(due.error(), form);
    if (arguments.has("until"))
        std::erase_if(*due, [&](const desk::DueView& each) { return each.until > arguments.value("until"); });
    if (form == Form::Json) {
        Json list = Json::array();
        for (const auto& each : *due) list.push_back(in_json(each));
        return {document({{"due", list}}), "", 0};
    }
    Output output;
    for (const auto& each : *due)
        output.data += fmt::format("{}  {:<14} {:<20} {:<18} {}{}\n", each.until, each.job, each.check, each.owner, each.title,
                                   each.days < 0 ? fmt::format(" ({} days overdue)", -each.days) : std::string{});
    if (due->empty()) output.talk = "Nothing is put off.\n";
    return output;
}

}  // namespace wm::app
