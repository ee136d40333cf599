// `backup` and `restore`.
#include <fmt/format.h>

#include <algorithm>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/backup.hpp"
#include "store/restore.hpp"

namespace wm::app {

namespace fs = std::filesystem;

namespace {

Json line_json(const store::BackupLine& line) {
    return {{"name", line.name}, {"made_at", line.made_at}, {"entries", line.entries}, {"jobs", line.jobs},
            {"good", line.is_good()}, {"reasons", line.reasons}};
}

Output status(const World& world, Form form) {
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto view = desk::backup_view(*desk);
    if (!view) return told_as(view.error(), form);
    const auto& waiting = view->not_exchanged;
    if (form == Form::Json) {
        Json lines = Json::array();
        for (const auto& line : view->index.lines) lines.push_back(line_json(line));
        return {document({{"folder", view->folder}, {"beside_the_journal", view->is_beside_journal}, {"due", view->is_due},
                          {"signing_keys", view->signing_keys}, {"backups", lines},
                          {"not_exchanged", {{"entries", waiting.entries}, {"since", waiting.since}, {"jobs", waiting.jobs},
                                             {"last_bundle", waiting.last_bundle}, {"not_confirmed", waiting.not_confirmed}}}}),
                "", 0};
    }
    Output output;
    for (const auto& line : view->index.lines)
        output.data += fmt::format("{:<28} {:>7} entries, {} jobs, {}\n", line.name, line.entries, line.jobs,
                                   line.is_good() ? "verified when made" : line.reasons.front());
    output.talk = fmt::format("Backups lie in {}.\n", view->folder);
    if (view->index.lines.empty()) output.talk += "There is none yet; the first writing of each day makes one.\n";
    if (view->is_beside_journal)
        output.talk += "That is on the same disk as the journal: name another with folder = \"…\" under [backup] in settings.toml.\n";
    if (view->signing_keys == "not in it")
        output.talk += "The keys that sign are not in them. Set a PIN, or password_file = \"…\" under [backup]; else a lost device\n"
                       "comes back with a new seal.\n";
    output.talk += desk::in_words(waiting);
    return output;
}

struct Source {
    fs::path folder;
    std::string name;  ///< empty = the newest good one
};

/// --from names a backup folder, a copy in it, or a day in the folder of the settings.
Result<Source> source_of(const Arguments& arguments, const World& world) {
    const std::string from = arguments.value("from");
    std::error_code ignored;
    if (!from.empty() && fs::is_directory(from, ignored)) return Source{from, ""};
    const fs::path file{from};
    if (file.extension() == ".journal") return Source{file.has_parent_path() ? file.parent_path() : fs::path{"."}, file.stem().string()};
    const auto setup = setup_for(world, desk::Access::Read);
    if (!setup) return tl::unexpected(setup.error());
    return Source{setup->backups.empty() ? world.data / "backups" : setup->backups, from};
}

/// Opens once, so that the folder goes on as a new device; empty when a PIN is wanted for that.
std::string device_after(const World& world) {
    auto desk = open_desk(world, desk::Access::Write);
    return desk ? desk->journal().device() : "";
}

}  // namespace

Output run_backup(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (!has_journal(world)) return nothing_yet(world, "backups", form);
    if (arguments.has("status")) return status(world, form);
    auto desk = open_desk(world, desk::Access::Write, "", Daily::LeaveOut);
    if (!desk) return told_as(desk.error(), form);
    const auto made = desk::back_up(*desk);
    if (!made) return told_as(made.error(), form);
    const int code = made->line.is_good() ? 0 : 1;
    if (form == Form::Json) {
        Json json = line_json(made->line);
        json["backup"] = made->file.string();
        json["attachments"] = made->attachments;
        json["dropped"] = made->dropped;
        return {document(json), "", code};
    }
    std::string talk = fmt::format("{} of {} jobs copied, opened again, verified and folded; {} new photos and reports.\n",
                                   desk::entries_in_words(made->line.entries), made->line.jobs, made->attachments);
    if (!made->line.is_good())
        talk = fmt::format("The journal does not verify: {} It was copied as it is, and no good backup was removed.\n", made->line.reasons.front());
    else if (made->line.name.ends_with("-set-back"))
        talk += "It lacks entries that an earlier backup holds: the journal was set back. No backup was removed.\n";
    for (const auto& name : made->dropped) talk += fmt::format("The backup of {} was removed; seven days and four weeks are kept.\n", name);
    return {made->file.string() + "\n", talk, code};
}

Output run_restore(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    // On a new tablet nobody has a PIN yet; a folder at work is put back to another day by a lead.
    if (auto fine = must_be_lead(world, "put a folder back from a backup"); !fine) return told_as(fine.error(), form);
    const auto source = source_of(arguments, world);
    if (!source) return told_as(source.error(), form);
    store::RestoreRequest request{.backups = source->folder, .name = source->name, .folder = world.data, .passphrase = "",
                                  .own = arguments.has("move-aside") ? store::OwnEntries::MoveAside : store::OwnEntries::Refuse,
                                  .aside = desk::text_of(world.now()), .vfs = ""};
    std::replace(request.aside.begin(), request.aside.end(), ':', '-');
    if (arguments.has("password-file")) {
        const auto text = read_file(arguments.value("password-file"));
        if (!text) return told_as(text.error(), form);
        request.passphrase = text->substr(0, text->find_first_of("\r\n"));
    }
    const auto done = store::restore(request);
    if (!done) return told_as(done.error(), form);
    const std::string device = device_after(world);
    if (form == Form::Json)
        return {document({{"restored", done->line.name}, {"entries", done->line.entries}, {"jobs", done->line.jobs},
                          {"only_in_former_journal", done->only_here}, {"set_aside", done->set_aside.string()},
                          {"files_missing", done->files_missing}, {"passed_over", done->passed_over}, {"signing_keys", done->has_signing_keys},
                          {"sealed", done->is_sealed}, {"device", device}}),
                "", 0};
    std::string talk;
    for (const auto& name : done->passed_over)
        talk += fmt::format("The backup of {} no longer verifies and was passed over: look at the disk it lies on.\n", name);
    talk += fmt::format("Restored from the backup of {}: {} of {} jobs.\n", done->line.name, desk::entries_in_words(done->line.entries),
                                   done->line.jobs);
    if (!done->set_aside.empty()) talk += fmt::format("What was here before lies in {}.\n", done->set_aside.string());
    if (done->files_missing > 0) talk += fmt::format("{} photos or reports are in neither; take them from another device.\n", done->files_missing);
    if (!done->has_signing_keys)
        talk += "The keys that signed were not in the backup: new ones are made, and reports carry another fingerprint from now on.\n";
    talk += device.empty() ? "It goes on as a new device as soon as it is opened with a PIN.\n"
                           : "It goes on as a new device that names the former one. Take in the bundles of the others now: unpack.\n";
    return {"", talk, 0};
}

}  // namespace wm::app
