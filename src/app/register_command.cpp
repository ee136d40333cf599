// `register`: instruments, people and checklists over all jobs, as text, CSV or JSON.
#include <fmt/format.h>

#include <algorithm>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/registers.hpp"

namespace wm::app {

namespace {

std::string as_text(const desk::RegisterTable& table) {
    std::vector<std::size_t> widths;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
        std::size_t width = table.columns[i].size();
        for (const auto& row : table.rows) width = std::max(width, row.cells[i].size());
        widths.push_back(std::min<std::size_t>(width, 34));
    }
    std::string text;
    const auto line = [&](const std::vector<std::string>& cells) {
        std::string one;
        for (std::size_t i = 0; i < cells.size(); ++i) one += fmt::format("{:<{}}  ", cells[i], widths[i]);
        one.erase(one.find_last_not_of(' ') + 1);
        text += one + "\n";
    };
    line(table.columns);
    for (const auto& row : table.rows) {
        line(row.cells);
        for (const auto& told : row.history) text += "    " + told + "\n";
    }
    return text;
}

Json as_json(desk::Register which, const desk::RegisterTable& table) {
    Json rows = Json::array();
    for (const auto& row : table.rows) {
        Json one = Json::object();
        for (std::size_t i = 0; i < table.columns.size(); ++i) one[table.columns[i]] = row.cells[i];
        one["history"] = row.history;
        rows.push_back(std::move(one));
    }
    return {{"register", std::string{desk::in_words(which)}}, {"rows", rows}};
}

}  // namespace

Output run_register(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto which = arguments.words.size() == 2 ? desk::register_named(arguments.words[1]) : std::nullopt;
    if (!which)
        return told_as({"It is not said which register is wanted.", "register", "Write instruments, people or checklists.",
                        ProblemKind::WrongUse},
                       form);
    if (!has_journal(world)) return nothing_yet(world, "rows", form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    auto table = desk::register_table(*desk, *which);
    if (!table) return told_as(table.error(), form);
    if (const auto search = arguments.value("search"); !search.empty()) desk::keep_only(*table, search);
    if (const auto by = arguments.value("sort"); !by.empty()) {
        const bool falling = by.starts_with("-");
        const auto column = std::find(table->columns.begin(), table->columns.end(), falling ? by.substr(1) : by);
        if (column == table->columns.end())
            return told_as({fmt::format("There is no column \"{}\".", by), "register", "Use one of the first line, with - in front for falling.",
                            ProblemKind::WrongUse},
                           form);
        desk::sort_by(*table, static_cast<std::size_t>(column - table->columns.begin()), falling ? desk::Order::Falling : desk::Order::Rising);
    }
    if (form == Form::Json) return {document(as_json(*which, *table)), "", 0};
    if (arguments.has("csv")) return {desk::csv_of(*table), "", 0};
    return {as_text(*table), "", 0};
}

}  // namespace wm::app
