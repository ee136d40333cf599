// `leaflet`: the sheet for the household, for the set of one job.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/leaflet.hpp"
#include "handover/leaflet_words.hpp"

namespace wm::app {

namespace {

Json as_json(const handover::Leaflet& leaflet, const handover::LeafletWords& words) {
    Json settings = Json::array();
    for (const auto& row : words.settings) settings.push_back({{"what", row.what}, {"value", row.value}, {"mind", row.mind}});
    Json cautions = Json::array();
    for (const auto& caution : words.cautions) cautions.push_back({{"signal", handover::in_words(caution.signal)}, {"words", caution.words}});
    return {{"job", leaflet.job}, {"place", leaflet.place}, {"date", leaflet.date}, {"headline", words.headline}, {"finished", leaflet.finished},
            {"practice", leaflet.practice}, {"shown", leaflet.shown}, {"said", words.said.empty() ? Json(nullptr) : Json(words.said)},
            {"about", words.about}, {"cautions", cautions}, {"emergency", words.emergency}, {"settings", settings}, {"normal", words.normal},
            {"call_us", words.call_us}, {"holiday", words.holiday}, {"frost", words.frost}, {"glass", words.glass}, {"who", words.who}};
}

std::string as_text(const handover::Leaflet& leaflet, const handover::LeafletWords& words) {
    std::string text = fmt::format("{}\n{}\n", leaflet.place, words.headline);
    const auto add = [&](const char* heading, const std::vector<std::string>& sentences) {
        text += fmt::format("{}\n", heading);
        for (const auto& sentence : sentences) text += "  " + sentence + "\n";
    };
    for (const auto& caution : words.cautions) text += fmt::format("  {}: {}\n", handover::in_words(caution.signal), caution.words);
    text += "How it is set\n";
    for (const auto& row : words.settings) text += fmt::format("  {}: {}. {}\n", row.what, row.value, row.mind);
    add("The set", words.about);
    add("Emergency", words.emergency);
    add("Normal", words.normal);
    add("Call us when", words.call_us);
    add("On holiday", words.holiday);
    add("In frost", words.frost);
    add("The glass", words.glass);
    add("Shown", words.shown);
    if (!words.said.empty()) text += fmt::format("  The household said: {}\n", words.said);
    return text;
}

}  // namespace

Output run_leaflet(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto leaflet = desk::leaflet_of(*desk, *job);
    if (!leaflet) return told_as(leaflet.error(), form);
    Output output;
    if (arguments.has("out")) {
        const auto drawn = handover::draw_leaflet(*leaflet);
        if (!drawn) return told_as(drawn.error(), form);
        if (const auto written = write_file(arguments.value("out"), *drawn); !written) return told_as(written.error(), form);
        output.talk = fmt::format("The leaflet lies in {}.\n", arguments.value("out"));
    }
    const auto words = handover::leaflet_words(*leaflet);
    output.data = form == Form::Json ? document(as_json(*leaflet, words)) : as_text(*leaflet, words);
    return output;
}

}  // namespace wm::app
