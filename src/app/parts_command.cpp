// `parts`: what the store puts together for a job.
#include <fmt/format.h>

#include "app/parts_json.hpp"

namespace wm::app {

namespace {

Json in_json(const std::optional<desk::Tick>& tick) {
    if (!tick) return nullptr;
    return {{"said", in_words(tick->said)}, {"counted", tick->counted.empty() ? Json(nullptr) : Json(tick->counted)}, {"words", tick->words}};
}

Json as_json(const desk::PickListView& list) {
    Json rows = Json::array();
    for (const auto& row : list.rows) rows.push_back(app::in_json(row));
    Json instruments = Json::array();
    for (const auto& row : list.instruments) instruments.push_back({{"type", row.type}, {"registered", row.registered}});
    return {{"job", list.job}, {"place", list.place}, {"parts_version", list.version}, {"parts", rows}, {"instruments", instruments}};
}

/// "  [store: there, van: missing]"
std::string ticks_in_words(const desk::PickRow& row) {
    std::string words;
    for (const auto place : {desk::TickPlace::Store, desk::TickPlace::Van}) {
        const auto& tick = place == desk::TickPlace::Store ? row.store : row.van;
        if (tick) words += fmt::format("{}{}: {}", words.empty() ? "  [" : ", ", in_words(place), in_words(tick->said));
    }
    return words.empty() ? words : words + "]";
}

std::string as_text(const desk::PickListView& list) {
    std::string text;
    std::string group;
    for (const auto& row : list.rows) {
        if (row.check_title != group) text += fmt::format("{}{}\n", group.empty() ? "" : "\n", group = row.check_title);
        text += fmt::format("  {:>12}  {}{}\n", row.amount.empty() ? "?" : row.amount, row.name, ticks_in_words(row));
        for (const auto& line : row.in_doubt) text += fmt::format("                  {}\n", line);
        for (const auto& line : row.how) text += fmt::format("                  {}\n", line);
        for (const auto& line : row.missing) text += fmt::format("                  still to be known: {}\n", line);
    }
    if (!list.instruments.empty()) text += "\nInstruments\n";
    for (const auto& row : list.instruments)
        text += fmt::format("  {:<30}{}\n", row.type, row.registered.empty() ? "none is registered for this job" : row.registered.front());
    return text;
}

}  // namespace

Json in_json(const desk::PickRow& row) {
    return {{"part", row.part}, {"check", row.check}, {"name", row.name}, {"amount", row.amount.empty() ? Json(nullptr) : Json(row.amount)},
            {"note", row.note}, {"how", row.how}, {"missing", row.missing}, {"sources", row.sources}, {"roof", row.roof},
            {"store", in_json(row.store)}, {"van", in_json(row.van)}, {"in_doubt", row.in_doubt}};
}

Output run_parts(const Arguments& arguments, const World& world) {
    if (arguments.words.size() > 1 && arguments.words[1] == "tick") return tick_parts(arguments, world);
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto list = desk::pick_list(*desk, *job);
    if (!list) return told_as(list.error(), form);
    Output output;
    if (arguments.has("out")) {
        const auto sheet = desk::pick_sheet(*desk, *list);
        if (!sheet) return told_as(sheet.error(), form);
        if (const auto written = write_file(arguments.value("out"), *sheet); !written) return told_as(written.error(), form);
        output.talk = fmt::format("The sheet to tick lies in {}.\n", arguments.value("out"));
    }
    output.data = form == Form::Json ? document(as_json(*list)) : as_text(*list);
    return output;
}

}  // namespace wm::app
