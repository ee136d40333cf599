// Checklist files into the model.
#include "checklist/loader.hpp"

#include <fmt/format.h>

#include <utility>

#include "checklist/lint_rules.hpp"
#include "checklist/loader_check.hpp"
#include "checklist/table_reader.hpp"

namespace wm::checklist {
namespace {

// "file:line:column" at the end of a problem of the document, back into a place.
Position position_in(const Problem& problem, std::string_view file_name) {
    Position at;
    const std::string_view where = problem.where;
    if (!where.starts_with(file_name) || where.size() == file_name.size()) return at;
    std::uint32_t* number = &at.line;
    for (const char c : where.substr(file_name.size() + 1)) {
        if (c == ':')
            number = &at.column;
        else if (c >= '0' && c <= '9')
            *number = *number * 10 + static_cast<std::uint32_t>(c - '0');
    }
    return at;
}

void read_head(Checklist& list, TableReader& file, const Item& document, Findings& findings) {
    const auto* head = file.table("checklist");
    if (head == nullptr) {
        findings.error(document.at, "the file has no [checklist]",
                       "Begin with [checklist] and its name, title, version, date and reason.");
        return;
    }
    TableReader reader{*head, "[checklist]", findings};
    list.name = reader.needed_text("name");
    list.title = reader.needed_text("title");
    list.version = reader.whole("version").value_or(0);
    list.date = reader.day("date");
    list.reason = reader.needed_text("reason");
    if (list.version < 1) reader.error("version", "[checklist] has no version", "Add version = 1.");
    if (list.date.empty())
        reader.error("date", "[checklist] has no date", "Add the day of this version.");
    reader.finish();
}

void read_stages(Checklist& list, TableReader& file, Findings& findings) {
    for (const auto* table : file.tables("stage")) {
        TableReader reader{*table, "a stage", findings};
        Stage stage;
        stage.at = table->at;
        stage.id = reader.needed_text("id");
        stage.title = reader.needed_text("title");
        stage.minutes = reader.whole("minutes");
        reader.finish();
        list.stages.push_back(std::move(stage));
    }
}

}  // namespace

Loaded read_checklist(std::string_view text, std::string_view file_name) {
    return read_checklist(read_document(text, file_name), text, file_name);
}

Loaded read_checklist(const Result<Item>& document, std::string_view text,
                      std::string_view file_name) {
    Loaded loaded;
    loaded.checklist.file_name = std::string{file_name};
    loaded.checklist.text = std::string{text};
    Findings findings{text};
    if (!document) {
        findings.error(position_in(document.error(), file_name), document.error().what,
                       document.error().what_to_do);
        loaded.findings = findings.taken();
        return loaded;
    }
    TableReader file{*document, "the file", findings};
    auto& list = loaded.checklist;
    read_head(list, file, *document, findings);
    list.example_facts = facts_noted(file.table("example_facts"), findings);
    read_stages(list, file, findings);
    for (const auto* table : file.tables("check")) {
        if (findings.is_full()) break;
        if (auto check = check_of(*table, findings)) list.checks.push_back(*std::move(check));
    }
    file.finish();
    loaded.findings = findings.taken();
    return loaded;
}

Result<Checklist> load_checklist(std::string_view text, std::string_view file_name) {
    auto loaded = read_checklist(text, file_name);
    if (loaded.findings.empty()) {
        Findings findings{text};
        const Library nothing_else;
        lint_expressions({loaded.checklist, nothing_else, findings});
        loaded.findings = findings.taken();
    }
    if (loaded.findings.empty()) return std::move(loaded.checklist);
    const auto& first = loaded.findings.front();
    return refused({first.what + (first.excerpt.empty() ? "" : "\n" + first.excerpt),
                    place_of(file_name, first.at), first.what_to_do, ProblemKind::Unreadable});
}

}  // namespace wm::checklist
