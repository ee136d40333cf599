#include "desk/workshop.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "checklist/lint.hpp"
#include "checklist/loader.hpp"
#include "checklist/rewrite.hpp"
#include "desk/moment.hpp"
#include "desk/permission.hpp"
#include "desk/replay.hpp"
#include "digest/hash.hpp"
#include "store/files.hpp"

namespace wm::desk {

namespace fs = std::filesystem;

namespace {

const std::string* text_of_list(const LibraryTexts& published, std::string_view checklist) {
    const auto found = published.find(fmt::format("{}.toml", checklist));
    return found == published.end() ? nullptr : &found->second;
}

/// A check as its lines have it, also where the text cannot be read: what is half written must stay in sight.
struct Lines {
    int first = 0;  ///< line of its [[check]]
    DraftCheck check;
};

/// What stands in quotes behind `key = ` in a line; empty for any other line.
std::string value_in(std::string_view line, std::string_view key) {
    const auto start = line.find_first_not_of(" \t");
    if (start == std::string_view::npos || line.substr(start, key.size()) != key) return {};
    const auto open = line.find_first_not_of(" \t", start + key.size());
    if (open == std::string_view::npos || line[open] != '=') return {};
    const auto quote = line.find('"', open);
    const auto end = quote == std::string_view::npos ? quote : line.find('"', quote + 1);
    return end == std::string_view::npos ? std::string{} : std::string{line.substr(quote + 1, end - quote - 1)};
}

std::vector<Lines> checks_in(std::string_view text) {
    std::vector<Lines> all;
    bool own = false;  // lines of the check itself, not of its parts and examples
    int number = 0;
    while (!text.empty()) {
        const auto end = std::min(text.find('\n'), text.size());
        const auto line = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        ++number;
        if (line.starts_with("[")) {
            own = line.starts_with("[[check]]");
            if (own) all.push_back({number, {}});
        }
        if (!own) continue;
        auto& check = all.back().check;
        for (const auto& [key, into] : {std::pair{"id", &check.id}, {"title", &check.title}, {"stage", &check.stage}})
            if (into->empty()) *into = value_in(line, key);
    }
    std::erase_if(all, [](const Lines& one) { return one.check.id.empty(); });
    return all;
}

std::string check_at(const std::vector<Lines>& checks, int line) {
    std::string id;
    for (const auto& one : checks)
        if (one.first <= line) id = one.check.id;
    return id;
}

/// A name that can be a file's, whatever the text says.
bool is_plain_name(std::string_view name) {
    return !name.empty() && name.size() <= 60 && std::all_of(name.begin(), name.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
    });
}

constexpr std::array<std::string_view, 4> no_lists{"cautions", "instruments", "parts", "failures"};

std::string why_unready(const WorkshopView& view) {
    const auto errors = std::count_if(view.faults.begin(), view.faults.end(), [](const FaultView& fault) { return fault.is_error; });
    if (errors > 0) return fmt::format("{} error{} in the text.", errors, errors == 1 ? "" : "s");
    if (!is_plain_name(view.checklist) || std::find(no_lists.begin(), no_lists.end(), view.checklist) != no_lists.end())
        return "The list needs a name of small letters, digits and hyphens.";
    if (view.published > 0 && view.differences.empty()) return "Nothing is changed.";
    return "";
}

void count_by_check(WorkshopView& view) {
    for (auto& check : view.checks) {
        check.faults = static_cast<int>(std::count_if(view.faults.begin(), view.faults.end(), [&](const FaultView& fault) { return fault.check == check.id; }));
        check.differences =
            static_cast<int>(std::count_if(view.differences.begin(), view.differences.end(), [&](const auto& one) { return one.check == check.id; }));
    }
}

/// The head says which version it is, of what day and why, whatever the editor left there.
Result<std::string> with_head(const std::string& text, const std::string& file, int version, const std::string& day, const std::string& why) {
    auto changed = checklist::with_value(text, file, {"", "version"}, std::to_string(version));
    if (changed) changed = checklist::with_value(*changed, file, {"", "date"}, day);
    if (changed) changed = checklist::with_value(*changed, file, {"", "reason"}, checklist::quoted(why));
    return changed;
}

tl::unexpected<Problem> not_published(std::string what, std::string where, std::string to_do) {
    return refused({std::move(what), std::move(where), std::move(to_do), ProblemKind::Refused});
}

}  // namespace

Result<std::string> published_text(const Desk& desk, std::string_view checklist) { return published_text(desk.setup().library, checklist); }

Result<std::string> published_text(const LibraryTexts& published, std::string_view checklist) {
    if (const auto* text = text_of_list(published, checklist)) return *text;
    return refused({fmt::format("There is no checklist \"{}\".", checklist), "the checklists", "Names are those of the register of checklists.",
                    ProblemKind::Unreadable});
}

WorkshopView looked_at(const LibraryTexts& all, const checklist::Library& library, const std::string& text) {
    WorkshopView view;
    const auto read = checklist::read_checklist(text, "the changed text");
    view.checklist = read.checklist.name;
    const std::string file = view.checklist.empty() ? "the changed text" : view.checklist + ".toml";
    const auto lines = checks_in(text);
    const auto report = checklist::lint(text, file, library);
    for (const auto& fault : report.findings)
        view.faults.push_back({static_cast<int>(fault.at.line), static_cast<int>(fault.at.column), check_at(lines, static_cast<int>(fault.at.line)),
                               fault.what, fault.what_to_do, fault.grade == checklist::Grade::Error});
    for (const auto& one : lines) view.checks.push_back(one.check);
    if (const auto* published = text_of_list(all, view.checklist)) {
        for (const auto& list : library.checklists)
            if (list.name == view.checklist) view.published = list.version;
        // A text that is no TOML is told as a fault already.
        if (auto found = checklist::differences(*published, text, file)) view.differences = std::move(*found);
    }
    count_by_check(view);
    view.unready = why_unready(view);
    return view;
}

Result<WorkshopView> looked_at(Desk& desk, const std::string& text, Over past) {
    WorkshopView view = looked_at(desk.setup().library, desk.library(), text);
    const std::string file = view.checklist + ".toml";
    // Examples that hold no more are errors, and just then the past is asked.
    if (past == Over::AllPast && view.published > 0 && checklist::load_checklist(text, file)) {
        auto replayed = replay(desk, text, file);
        if (!replayed) return tl::unexpected(replayed.error());
        view.replay = std::move(*replayed);
    }
    return view;
}

Result<PublishedView> publish(Desk& desk, const std::string& text, const std::string& why) {
    if (auto allowed = may(desk.setup(), store::Role::Lead, "publish a checklist"); !allowed) return tl::unexpected(allowed.error());
    if (desk.setup().access != Access::Write) return not_published("This desk only reads.", "publish", "Open the folder for writing.");
    if (why.find_first_not_of(" \t\n") == std::string::npos)
        return not_published("A version needs a reason.", "publish", "Say in a sentence what is changed and why: it stands in the list and in its history.");
    const auto view = looked_at(desk, text, Over::NoPast);
    if (!view) return tl::unexpected(view.error());
    if (!view->unready.empty()) {
        const auto error = std::find_if(view->faults.begin(), view->faults.end(), [](const FaultView& fault) { return fault.is_error; });
        if (error != view->faults.end())
            return not_published(error->what, fmt::format("{}.toml:{}:{}", view->checklist, error->line, error->column), error->what_to_do);
        return not_published(view->unready, "publish", "Nothing was published; the version before goes on.");
    }
    const std::string file = view->checklist + ".toml";
    const std::string day = day_of(desk.setup().now());
    const int version = view->published + 1;
    const auto whole = with_head(text, file, version, day, why);
    if (!whole) return tl::unexpected(whole.error());

    auto& disk = desk.journal().disk();
    const fs::path folder = desk.setup().data / "checklists";
    if (const auto* before = text_of_list(desk.setup().library, view->checklist)) {
        const auto kept = store::write_file(folder / "earlier" / fmt::format("{}-v{}.toml", view->checklist, view->published), *before, disk);
        if (!kept) return tl::unexpected(kept.error());
    }
    auto texts = desk.setup().library;
    texts[file] = *whole;
    // Read as a whole before it lies where the next start reads it.
    if (const auto sound = read_library(texts); !sound) return tl::unexpected(sound.error());
    if (const auto put = store::write_file(folder / file, *whole, disk); !put) return tl::unexpected(put.error());
    std::string log;
    const fs::path told = folder / "published.txt";
    if (const auto there = store::look_at_file(told, disk); there && *there) {
        auto earlier = store::read_file(told, disk);
        if (!earlier) return tl::unexpected(earlier.error());
        log = std::move(*earlier);
    }
    std::string one_line = why;
    std::replace(one_line.begin(), one_line.end(), '\n', ' ');
    log += fmt::format("{} {} version {}, SHA-256 {}, by {}: {}\n", text_of(desk.setup().now()), view->checklist, version, digest::sha256_hex(*whole),
                       author(desk.setup(), "nobody with a PIN"), one_line);
    if (const auto put = store::write_file(told, log, disk); !put) return tl::unexpected(put.error());
    if (auto used = desk.use_lists(std::move(texts)); !used) return tl::unexpected(used.error());
    return PublishedView{view->checklist, version, (folder / file).string()};
}

Result<LibraryTexts> published_here(const fs::path& data, store::Disk& disk) {
    LibraryTexts texts;
    std::error_code problem;
    for (fs::directory_iterator at{data / "checklists", problem}, end; !problem && at != end; at.increment(problem)) {
        if (at->path().extension() != ".toml") continue;
        auto text = store::read_file(at->path(), disk);
        if (!text) return tl::unexpected(text.error());
        if (const auto sound = checklist::load_checklist(*text, at->path().string()); !sound) {
            Problem fault = sound.error();
            fault.what_to_do += " The version before lies in the folder \"earlier\" beside it; without the file the list that came with the program is used.";
            return refused(std::move(fault));
        }
        texts.emplace(at->path().filename().string(), std::move(*text));
    }
    return texts;
}

}  // namespace wm::desk
