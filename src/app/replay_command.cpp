// `replay`: a changed checklist over all past readings.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "app/keep_looked.hpp"
#include "desk/replay.hpp"

namespace wm::app {

namespace {

Json in_json(const desk::ReplayShare& share) {
    return {{"failed", share.failed}, {"results", share.results}, {"share", share.share()}, {"low", share.low}, {"high", share.high}};
}

Json in_json(const desk::ReplayView& view) {
    Json checks = Json::array();
    for (const auto& row : view.by_check) checks.push_back({{"check", row.check}, {"before", in_json(row.before)}, {"after", in_json(row.after)}});
    Json flips = Json::array();
    for (const auto& flip : view.flips)
        flips.push_back({{"job", flip.job}, {"check", flip.check}, {"was", flip.was}, {"would_be", flip.would_be},
                         {"why", flip.why}, {"place", flip.place}, {"entry", flip.entry}});
    return {{"results", view.results}, {"flips", flips}, {"share_before", view.share_before},
            {"share_after", view.share_after}, {"checklist", view.checklist}, {"judged_again", view.judged_again},
            {"changed", view.changed}, {"dropped", view.dropped}, {"before", in_json(view.before)}, {"after", in_json(view.after)},
            {"by_check", checks}};
}

std::string in_text(const desk::ReplayShare& share) {
    return share.results == 0 ? "no reading"
                              : fmt::format("{} of {} = {:.2f} % ({:.1f} to {:.1f} %)", share.failed, share.results, 100.0 * share.share(), 100.0 * share.low,
                                            100.0 * share.high);
}

std::string in_text(const desk::ReplayView& view) {
    std::string text = fmt::format("{} readings of \"{}\", {} of them judged again: checks that changed: {}\n", view.results,
                                   view.checklist, view.judged_again,
                                   view.changed.empty() ? "none" : fmt::format("{}", fmt::join(view.changed, ", ")));
    if (!view.dropped.empty()) text += fmt::format("Readings exist of checks that the list no longer has: {}\n", fmt::join(view.dropped, ", "));
    for (const auto& flip : view.flips)
        text += fmt::format("  {}: {}{}{}: {} would be {}. {}\n", flip.job, flip.check, flip.place.empty() ? "" : " ", flip.place,
                            flip.was, flip.would_be, flip.why);
    text += fmt::format("{} would flip. Does not conform, 95 % likely within the brackets:\n", view.flips.size());
    for (const auto& row : view.by_check) text += fmt::format("  {}: {} before, {} after\n", row.check, in_text(row.before), in_text(row.after));
    text += fmt::format("  the whole list: {} before, {} after\n", in_text(view.before), in_text(view.after));
    return text;
}

}  // namespace

Output run_replay(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto file = arguments.word(1, "The changed checklist");
    if (!file) return told_as(file.error(), form);
    const auto text = read_file(*file);
    if (!text) return told_as(text.error(), form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    auto past = desk::past_readings(*desk);
    if (!past) return told_as(past.error(), form);
    if (past->made_anew > 0) keep_past_of(world, *past);
    const auto view = desk::replay(*desk, past->readings, *text, *file);
    if (!view) return told_as(view.error(), form);
    return {form == Form::Json ? document(in_json(*view)) : in_text(*view), "", view->flips.empty() ? 0 : 1};
}

}  // namespace wm::app
