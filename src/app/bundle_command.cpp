// `pack` and `unpack`.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "app/open_copies.hpp"
#include "desk/devices.hpp"
#include "desk/moment.hpp"
#include "desk/permission.hpp"
#include "exchange/bundle.hpp"
#include "exchange/exchanged.hpp"

namespace wm::app {

namespace {

Json heads_json(const std::vector<record::Head>& heads) {
    Json list = Json::array();
    for (const auto& head : heads) list.push_back({{"device", head.device}, {"seq", head.seq}, {"hash", head.hash}});
    return list;
}

Result<std::string> passphrase_of(const Arguments& arguments) {
    if (!arguments.has("password-file")) return std::string{};
    auto text = read_file(arguments.value("password-file"));
    if (!text) return tl::unexpected(text.error());
    return text->substr(0, text->find_first_of("\r\n"));
}

}  // namespace

Output run_pack(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto file = arguments.word(1, "The file to write");
    if (!file) return told_as(file.error(), form);
    const auto passphrase = passphrase_of(arguments);
    if (!passphrase) return told_as(passphrase.error(), form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    exchange::PackRequest request{.since = {}, .passphrase = *passphrase, .random = world.random};
    if (const auto since = arguments.value("since"); !since.empty()) {
        const auto all = desk->journal().read_all();
        if (!all) return told_as(all.error(), form);
        for (const auto& written : all->entries)
            if (written.hash == since) request.since.push_back({written.entry.device, written.entry.seq, written.hash});
        if (request.since.empty())
            return told_as({"No entry here has that hash.", "--since", "Give the full head, 64 digits, or leave it out.",
                            ProblemKind::Unreadable},
                           form);
    }
    const auto packed = exchange::pack(desk->journal(), request);
    if (!packed) return told_as(packed.error(), form);
    if (const auto done = write_file(*file, packed->bytes); !done) return told_as(done.error(), form);
    if (const auto noted = exchange::note_packed(desk->journal(), packed->heads, desk::text_of(world.now())); !noted)
        *world.told += "That this bundle was made could not be noted: " + noted.error().what + "\n";
    if (form == Form::Json)
        return {document({{"bundle", *file}, {"entries", packed->entries}, {"attachments", packed->attachments},
                          {"heads", heads_json(packed->heads)}}),
                "", 0};
    return {*file + "\n", fmt::format("{} entries, {} attachments.{}\n", packed->entries, packed->attachments,
                                      passphrase->empty() ? " Names and photos stay locked: no passphrase was given." : ""),
            0};
}

Output run_unpack(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (arguments.words.size() < 2) return told_as(arguments.word(1, "The bundle").error(), form);
    const auto passphrase = passphrase_of(arguments);
    if (!passphrase) return told_as(passphrase.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const auto met = desk::devices(*desk);
    if (!met) return told_as(met.error(), form);
    std::vector<std::string> refused_devices;
    for (const auto& view : *met)
        if (view.standing == desk::DeviceStanding::Refused) refused_devices.push_back(view.device);
    std::size_t fresh = 0;
    std::size_t known = 0;
    Json conflicts = Json::array();
    Json devices = Json::array();
    std::size_t checklists = 0;
    std::string talk;
    for (std::size_t i = 1; i < arguments.words.size(); ++i) {
        const auto bytes = read_file(arguments.words[i]);
        if (!bytes) return told_as(bytes.error(), form);
        const auto taken = exchange::unpack(desk->journal(), *bytes,
                                            {.name = arguments.words[i], .passphrase = *passphrase,
                                             .wall_ms = world.now().wall_ms,
                                             .refused = refused_devices,
                                             .may_erase = desk::may(desk->setup(), store::Role::Lead, "erase").has_value()});
        if (!taken) {
            Output output = told_as(taken.error(), form);
            if (form == Form::Json) {
                Json json = Json::parse(output.data);
                json["missing"] = {taken.error().what};
                output.data = document(json);
            }
            return output;
        }
        // An erasure that came with it takes along what lies open here.
        if (const auto dropped = drop_copies_of_erased(*desk, world.data); !dropped) return told_as(dropped.error(), form);
        fresh += taken->new_entries;
        known += taken->known_entries;
        checklists += taken->checklists;
        for (const auto& device : taken->new_devices) {
            devices.push_back(device);
            talk += fmt::format("Device {} was not known here before. If you set up no new device, ask who made {}. A lead says whose it is: "
                                "witnessmark device accept or refuse.\n",
                                device, arguments.words[i]);
        }
        for (const auto& conflict : taken->conflicts) {
            conflicts.push_back({{"job", conflict.job}, {"check", conflict.check}, {"place", conflict.place}});
            talk += fmt::format("Two readings stand against each other: {} {} {}. Decide with resolve.\n", conflict.job,
                                conflict.check, conflict.place);
        }
    }
    if (form == Form::Json)
        return {document({{"new_entries", fresh}, {"known_entries", known}, {"conflicts", conflicts},
                          {"missing", Json::array()}, {"new_devices", devices}, {"new_checklists", checklists}}),
                talk, 0};
    return {"", talk + fmt::format("{} new entries, {} known already.\n", fresh, known), 0};
}

}  // namespace wm::app
