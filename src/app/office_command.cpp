// `office`: the record of all crews in PostgreSQL, and `week --connect` over it.
#include "app/office_command.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "app/json_views.hpp"
#include "checklist/failure_list.hpp"
#include "desk/library.hpp"
#include "desk/office_week.hpp"
#include "desk/week.hpp"

namespace wm::app {

namespace fs = std::filesystem;

namespace {

/// What became of one file of the drop folder.
struct Dropped {
    fs::path file;
    bool was_looked_at = false;
    Result<exchange::OfficeTaken> taken = refused({});
};

/// Plain files but for those that are still being copied under a name with a dot in front.
Result<std::vector<Dropped>> dropped_in(const fs::path& folder) {
    std::vector<Dropped> files;
    std::error_code problem;
    for (fs::directory_iterator next{folder, problem}, end; !problem && next != end; next.increment(problem)) {
        std::error_code ignored;
        const std::string name = next->path().filename().string();
        if (name.starts_with(".") || name.ends_with(".new") || !next->is_regular_file(ignored)) continue;
        files.push_back({.file = next->path()});
    }
    if (problem)
        return refused({fmt::format("The drop folder cannot be read: {}.", problem.message()), folder.string(),
                        "Check its name and whether you may read it.", ProblemKind::Unreadable});
    std::sort(files.begin(), files.end(), [](const Dropped& a, const Dropped& b) { return a.file < b.file; });
    return files;
}

bool is_refused(const Dropped& dropped) { return !dropped.taken && dropped.taken.error().kind != ProblemKind::NotStored; }

/// One file after the other. What follows a bundle that comes later by its name is refused at first, so whoever was refused
/// is asked again as long as something new was taken.
void take_all(exchange::OfficeStore& office, std::vector<Dropped>& files, const std::string& at) {
    bool is_worth_it = true;
    while (is_worth_it && !office.is_gone()) {
        is_worth_it = false;
        for (Dropped& dropped : files) {
            if (office.is_gone()) return;
            if (dropped.was_looked_at && !is_refused(dropped)) continue;
            dropped.was_looked_at = true;
            const auto bytes = read_file(dropped.file);
            if (!bytes) {
                dropped.taken = tl::unexpected(bytes.error());
                continue;
            }
            dropped.taken = office.take(*bytes, {.name = dropped.file.filename().string(), .at = at});
            is_worth_it = is_worth_it || (dropped.taken && dropped.taken->new_entries > 0);
        }
    }
}

Json conflicts_json(const std::vector<exchange::ConflictFound>& conflicts) {
    Json list = Json::array();
    for (const auto& conflict : conflicts) list.push_back({{"job", conflict.job}, {"check", conflict.check}, {"place", conflict.place}});
    return list;
}

Json file_json(const Dropped& dropped) {
    Json json{{"file", dropped.file.filename().string()}};
    if (!dropped.was_looked_at) {
        json["state"] = "not looked at";
    } else if (!dropped.taken) {
        const auto& problem = dropped.taken.error();
        json["state"] = is_refused(dropped) ? "refused" : "not taken";
        json["problem"] = {{"what", problem.what}, {"where", problem.where}, {"what_to_do", problem.what_to_do}};
    } else {
        const auto& taken = *dropped.taken;
        json["state"] = taken.was_known ? "known" : "taken";
        json["new_entries"] = taken.new_entries;
        json["known_entries"] = taken.known_entries;
        json["new_checklists"] = taken.checklists;
        json["new_devices"] = taken.new_devices;
        json["conflicts"] = conflicts_json(taken.conflicts);
    }
    return json;
}

std::string file_line(const Dropped& dropped) {
    const std::string name = dropped.file.filename().string();
    if (!dropped.was_looked_at) return fmt::format("{}: not looked at\n", name);
    if (!dropped.taken)
        return fmt::format("{}: {}: {} {}\n", name, is_refused(dropped) ? "refused" : "not taken", dropped.taken.error().what,
                           dropped.taken.error().what_to_do);
    const auto& taken = *dropped.taken;
    if (taken.was_known) return fmt::format("{}: taken in before\n", name);
    std::string line = fmt::format("{}: taken, {} new entries, {} known already\n", name, taken.new_entries, taken.known_entries);
    for (const auto& device : taken.new_devices) line += fmt::format("  device {} is new here\n", device);
    for (const auto& conflict : taken.conflicts)
        line += fmt::format("  two readings stand against each other: {} {} {}\n", conflict.job, conflict.check, conflict.place);
    return line;
}

Output drop(exchange::OfficeStore& office, const Arguments& arguments, const World& world, Form form) {
    auto files = dropped_in(arguments.value("drop"));
    if (!files) return told_as(files.error(), form);
    take_all(office, *files, desk::text_of(world.now()));
    const auto heads = office.heads();
    const auto of = [&](const auto& is) { return std::count_if(files->begin(), files->end(), is); };
    const auto refused_files = of([](const Dropped& file) { return file.was_looked_at && is_refused(file); });
    const auto lost = of([](const Dropped& file) { return !file.was_looked_at || (!file.taken && !is_refused(file)); });
    Output output;
    // Gone after the last answer, it leaves files that were not looked at, and no word why.
    if (!heads) output = told_as(heads.error(), Form::Text);
    output.code = lost > 0 || !heads ? 4 : refused_files > 0 ? 1 : 0;
    if (form == Form::Json) {
        Json list = Json::array();
        for (const Dropped& file : *files) list.push_back(file_json(file));
        Json ends = Json::array();
        if (heads)
            for (const auto& head : *heads) ends.push_back({{"device", head.device}, {"seq", head.seq}, {"hash", head.hash}});
        Json told{{"files", std::move(list)}, {"refused", refused_files}, {"not_taken", lost}, {"heads", std::move(ends)}};
        if (!heads)
            told["problem"] = {{"what", heads.error().what}, {"where", heads.error().where}, {"what_to_do", heads.error().what_to_do}};
        output.data = document(told);
        return output;
    }
    for (const Dropped& file : *files) output.data += file_line(file);
    if (files->empty()) output.talk = fmt::format("There is no file in {}.\n", arguments.value("drop"));
    return output;
}

Output give_role(exchange::OfficeStore& office, const Arguments& arguments, Form form) {
    const std::string kind = arguments.value("role");
    const auto name = arguments.word(1, "The name of the role");
    if (!name) return told_as(name.error(), form);
    if (kind != "crew" && kind != "lead")
        return told_as({fmt::format("\"{}\" is no role of the office.", kind), "--role", "Write crew or lead.", ProblemKind::WrongUse}, form);
    const auto devices = arguments.values("device");
    if (kind == "lead" && !devices.empty())
        return told_as({"A lead sees every device; none is given to one.", "--device", "Leave --device out, or write --role crew.", ProblemKind::WrongUse},
                       form);
    const auto given = office.put_role(kind == "crew" ? exchange::OfficeRole::Crew : exchange::OfficeRole::Lead, *name, devices);
    if (!given) return told_as(given.error(), form);
    if (form == Form::Json) return {document({{"role", *name}, {"kind", kind}, {"devices", *given}}), "", 0};
    std::string text = fmt::format("{} is a {} now.\n", *name, kind);
    for (const auto& device : *given) text += fmt::format("  device {}\n", device);
    return {text, "How it proves who it is, a password or the user of the computer, is set in the database: \\password in psql.\n", 0};
}

}  // namespace

Output run_office(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (!arguments.has("connect"))
        return told_as({"The database of the office is missing.", "office", "Write --connect \"host=HOST dbname=DATABASE user=USER\".",
                        ProblemKind::WrongUse},
                       form);
    auto office = exchange::OfficeStore::opened(arguments.value("connect"));
    if (!office) return told_as(office.error(), form);
    if (arguments.has("drop")) return drop(*office, arguments, world, form);
    if (arguments.has("role")) return give_role(*office, arguments, form);
    const auto heads = office->heads();
    if (!heads) return told_as(heads.error(), form);
    if (form == Form::Json) {
        Json ends = Json::array();
        for (const auto& head : *heads) ends.push_back({{"device", head.device}, {"seq", head.seq}, {"hash", head.hash}});
        return {document({{"role", office->role()}, {"steps_done", office->steps_done()}, {"heads", std::move(ends)}}), "", 0};
    }
    std::string text = fmt::format("{}, as {}: {} chains\n", office->where(), office->role(), heads->size());
    for (const auto& head : *heads) text += fmt::format("  device {}: up to entry {}\n", head.device, head.seq);
    return {text, office->steps_done() > 0 ? "The tables were brought up to this version.\n" : "", 0};
}

Result<OfficeWeek> week_at_office(const Arguments& arguments, const World& world, const audit::WeekSettings& settings) {
    auto office = exchange::OfficeStore::opened(arguments.value("connect"));
    if (!office) return tl::unexpected(office.error());
    // The office's own data folder knows customers' keys, the company and whose devices are accepted; without one no name is read.
    std::optional<desk::Desk> own;
    if (has_journal(world)) {
        auto opened = open_desk(world, desk::Access::Read);
        if (!opened) return tl::unexpected(opened.error());
        own.emplace(std::move(*opened));
    }
    const auto texts = library_texts(world);
    if (!texts) return tl::unexpected(texts.error());
    const auto library = desk::read_library(*texts);
    if (!library) return tl::unexpected(library.error());
    const auto none = store::Keys::none();
    const store::Keys& keys = own ? own->journal().keys() : none;
    OfficeWeek week;
    week.cards = desk::cards_of(**library);
    if (arguments.has("list")) {
        auto all = desk::office_weeks(*office, keys);
        if (!all) return tl::unexpected(all.error());
        week.weeks = std::move(*all);
        return week;
    }
    const auto name = arguments.word(1, "The week");
    if (!name) return tl::unexpected(name.error());
    checklist::FailureList failures;
    if (const auto text = texts->find("failures.toml"); text != texts->end())
        if (auto read = checklist::load_failures(text->second, "failures.toml", **library)) failures = std::move(*read);
    auto view = desk::office_week(*office,
                                  {.library = **library, .failures = std::move(failures), .now = world.now(), .keys = keys,
                                   .looking = own ? desk::looking_from(own->journal()) : desk::LookingDevice{}},
                                  *name, settings);
    if (!view) return tl::unexpected(view.error());
    week.view = std::move(*view);
    return week;
}

}  // namespace wm::app
