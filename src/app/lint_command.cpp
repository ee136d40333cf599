// `lint`: what is wrong or doubtful in checklist files.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "checklist/lint.hpp"
#include "checklist/loader.hpp"

namespace wm::app {

namespace {

// Cautions and instruments beside the file if it has any there, else those of the program.
Result<checklist::Library> library_for(const std::filesystem::path& file, const World& world) {
    checklist::Library library;
    std::error_code problem;
    auto folder = file.parent_path();
    if (!std::filesystem::exists(folder / "cautions.toml", problem) ||
        !std::filesystem::exists(folder / "instruments.toml", problem))
        folder = world.share / "checklists";
    for (const auto& [name, load] :
         {std::pair{"cautions.toml", &checklist::load_cautions}, std::pair{"instruments.toml", &checklist::load_instruments}}) {
        const auto text = read_file(folder / name);
        if (!text) return tl::unexpected(text.error());
        // A fault in them is found when they are linted themselves.
        if (const auto loaded = load(library, *text, name); !loaded && file.filename() != name)
            return tl::unexpected(loaded.error());
    }
    for (const auto& entry : std::filesystem::directory_iterator{folder, problem}) {
        const auto name = entry.path().filename().string();
        if (entry.path().extension() != ".toml" || name == "cautions.toml" || name == "instruments.toml" || name == "parts.toml" || name == "failures.toml") continue;
        if (name == file.filename()) continue;
        const auto text = read_file(entry.path());
        if (!text) continue;
        auto read = checklist::read_checklist(*text, name);
        library.checklists.push_back(std::move(read.checklist));
    }
    return library;
}

}  // namespace

Output run_lint(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (arguments.words.size() < 2) return told_as(arguments.word(1, "The file").error(), form);
    Output output;
    Json files = Json::array();
    for (std::size_t i = 1; i < arguments.words.size(); ++i) {
        const std::string& file = arguments.words[i];
        const auto text = read_file(file);
        if (!text) return told_as(text.error(), form);
        const auto library = library_for(file, world);
        if (!library) return told_as(library.error(), form);
        const auto report = checklist::lint(*text, file, *library);
        if (report.has_errors()) output.code = 1;
        Json findings = Json::array();
        for (const auto& finding : report.findings) {
            findings.push_back({{"line", finding.at.line}, {"column", finding.at.column}, {"what", finding.what},
                                {"what_to_do", finding.what_to_do},
                                {"severity", finding.grade == checklist::Grade::Error ? "error" : "advice"}});
            output.data += checklist::told(finding, file) + "\n";
        }
        files.push_back({{"file", file}, {"checks", report.checks}, {"core", report.core}, {"findings", findings}});
        output.talk += fmt::format("{}: {} checks, {} core, {} findings\n", file, report.checks, report.core,
                                   report.findings.size());
    }
    if (form == Form::Json) output.data = document({{"files", files}});
    return output;
}

}  // namespace wm::app
