// `read-instrument`: what a profile says, what an instrument shows now, and what instruments sent for a job.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/instrument_profiles.hpp"
#include "app/json_views.hpp"
#include "desk/shown_reading.hpp"
#include "digest/hash.hpp"
#include "instruments/reading.hpp"

namespace wm::app {

namespace {

Output told_evidence(const Arguments& arguments, const World& world, Form form) {
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto hand = desk->in_hand(arguments.value("job"));
    if (!hand) return told_as(hand.error(), form);
    const auto evidence = desk::evidence_in(*hand, arguments.value("check"));
    Output output;
    Json list = Json::array();
    for (const auto& each : evidence) {
        list.push_back({{"check", each.check}, {"evidence", each.text}});
        output.data += fmt::format("{}\n{}\n", each.check, each.text);
    }
    if (form == Form::Json) output.data = document({{"job", arguments.value("job")}, {"evidence", list}});
    else if (evidence.empty()) output.talk = "No instrument sent anything for it.\n";
    return output;
}

Output told_profile(const instruments::Profile& profile, Form form) {
    const auto meaning = instruments::told_meaning(profile);
    if (form == Form::Json)
        return {document({{"title", profile.title}, {"protocol", in_words(profile.protocol)}, {"instrument_type", profile.instrument_type},
                          {"unit", profile.unit.symbol}, {"meaning", meaning}, {"sha256", profile.sha256}}),
                "", 0};
    return {fmt::format("{}: {}, {}\n", profile.title, in_words(profile.protocol), meaning), "The profile is sound. With --port it is read.\n", 0};
}

}  // namespace

Output run_read_instrument(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (arguments.has("job")) return told_evidence(arguments, world, form);
    const auto profile = profile_named(world, arguments.value("profile"));
    if (!profile) return told_as(profile.error(), form);
    if (!arguments.has("port")) return told_profile(*profile, form);
    const auto shown = instruments::read_instrument(*profile, arguments.value("port"));
    if (!shown) return told_as(shown.error(), form);
    const std::string at = desk::text_of(world.now());
    if (form == Form::Text) return {shown->text + "\n", instruments::evidence_of(*profile, arguments.value("port"), *shown, at), 0};
    Json raw = Json::array();
    for (const auto& exchange : shown->raw)
        raw.push_back({{"sent", digest::to_hex(exchange.sent)}, {"received", digest::to_hex(exchange.received)}});
    return {document({{"text", shown->text}, {"value", shown->value}, {"unit", profile->unit.symbol}, {"serial", shown->serial},
                      {"instrument", shown->mark}, {"at", at}, {"profile", profile->title}, {"profile_sha256", profile->sha256}, {"raw", raw}}),
            "", 0};
}

}  // namespace wm::app
