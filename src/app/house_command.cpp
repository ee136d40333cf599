// `house`: all that was ever done at a house, without a word of who lives there.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/house_history.hpp"

namespace wm::app {

namespace {

Json if_any(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json as_json(const desk::HouseHistoryView& history) {
    Json visits = Json::array();
    for (const auto& visit : history.visits)
        visits.push_back({{"job", visit.job}, {"kind", visit.kind}, {"day", visit.day}, {"state", visit.state}, {"checklist", visit.checklist},
                          {"conforming", visit.conforming}, {"put_right", visit.put_right}, {"not_right", visit.not_right}, {"reports", visit.reports}});
    Json calls = Json::array();
    for (const auto& call : history.calls)
        calls.push_back({{"complaint", call.complaint}, {"day", call.day}, {"symptom", call.symptom}, {"air", if_any(call.air)},
                         {"cause", if_any(call.cause)}, {"check", if_any(call.check)}, {"closed", if_any(call.closed)}});
    Json fitted = Json::array();
    for (const auto& [meaning, value] : history.fitted) fitted.push_back({{"what", meaning}, {"value", value}});
    return {{"job", history.job}, {"place", history.place}, {"visits", visits}, {"complaints", calls}, {"fitted", fitted}};
}

std::string as_text(const desk::HouseHistoryView& history) {
    std::string text = history.place + "\n";
    for (const auto& visit : history.visits) {
        text += fmt::format("{}  {:<14} {:<14} {}, {} checks stand as right\n", visit.day, visit.job, visit.kind, visit.state, visit.conforming);
        if (!visit.put_right.empty()) text += fmt::format("    put right: {}\n", fmt::join(visit.put_right, "; "));
        for (const auto& one : visit.not_right) text += fmt::format("    not right: {}\n", one);
        for (const auto& report : visit.reports) text += fmt::format("    report {}\n", report);
    }
    for (const auto& call : history.calls)
        text += fmt::format("{}  {:<14} {}{}\n", call.day, call.complaint, call.symptom,
                            call.closed.empty() ? ", open" : fmt::format(", closed {}{}", call.closed, call.cause.empty() ? "" : ": " + call.cause));
    for (const auto& [meaning, value] : history.fitted) text += fmt::format("  {}: {}\n", meaning, value);
    return text;
}

}  // namespace

Output run_house(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto history = desk::house_history(*desk, *job);
    if (!history) return told_as(history.error(), form);
    Output output;
    if (arguments.has("out")) {
        const auto page = desk::house_page(*desk, *history);
        if (!page) return told_as(page.error(), form);
        if (const auto written = write_file(arguments.value("out"), *page); !written) return told_as(written.error(), form);
        output.talk = fmt::format("The history lies in {}.\n", arguments.value("out"));
    }
    output.data = form == Form::Json ? document(as_json(*history)) : as_text(*history);
    return output;
}

}  // namespace wm::app
