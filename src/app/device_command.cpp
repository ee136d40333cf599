// `device`: whose entries are here, and which of them are ours.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/devices.hpp"

namespace wm::app {

namespace {

Output list_devices(const World& world, Form form) {
    if (!has_journal(world)) return nothing_yet(world, "devices", form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto all = desk::devices(*desk);
    if (!all) return told_as(all.error(), form);
    if (form == Form::Json) {
        Json list = Json::array();
        for (const auto& view : *all)
            list.push_back({{"device", view.device}, {"standing", std::string{desk::in_words(view.standing)}}, {"ours", desk::is_ours(view.standing)},
                            {"entries", view.entries}, {"since", view.since}, {"by", view.by.empty() ? Json(nullptr) : Json(view.by)}});
        return {document({{"devices", list}}), "", 0};
    }
    Output output;
    for (const auto& view : *all)
        output.data += fmt::format("{}  {:<16} {:>6} entries since {}{}\n", view.device, desk::in_words(view.standing), view.entries, view.since,
                                   view.by.empty() ? "" : ", said " + view.by);
    return output;
}

Output judge(const Arguments& arguments, const World& world, desk::DeviceWord word, Form form) {
    const auto device = arguments.word(2, "The device");
    if (!device) return told_as(device.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const auto judged = desk::judge_device(*desk, *device, word);
    if (!judged) return told_as(judged.error(), form);
    const bool accepts = word == desk::DeviceWord::Accepted;
    if (form == Form::Json) return {document({{"device", *judged}, {"standing", accepts ? "accepted" : "refused"}}), "", 0};
    return {"", fmt::format("Device {} is {}\n", *judged, accepts ? "accepted as one of ours." : "refused. No more bundles of it are taken; what is here stays."), 0};
}

}  // namespace

Output run_device(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto what = arguments.word(1, "What to do (list, accept, refuse)");
    if (!what) return told_as(what.error(), form);
    if (*what == "list") return list_devices(world, form);
    if (*what == "accept") return judge(arguments, world, desk::DeviceWord::Accepted, form);
    if (*what == "refuse") return judge(arguments, world, desk::DeviceWord::Refused, form);
    return told_as({fmt::format("There is no \"device {}\".", *what), "device", "Use device list, device accept or device refuse.",
                    ProblemKind::WrongUse},
                   form);
}

}  // namespace wm::app
