// `checklist`: the lists as they are published, a changed text beside them, and its publication.
#include <fmt/format.h>

#include <algorithm>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/workshop.hpp"

namespace wm::app {

namespace {

Output list(const checklist::Library& library, Form form) {
    Json all = Json::array();
    Output output;
    for (const auto& one : library.checklists) {
        all.push_back({{"name", one.name}, {"version", one.version}, {"date", one.date}, {"title", one.title}, {"checks", one.checks.size()}});
        output.data += fmt::format("{:<15} version {:<4} {}  {} checks  {}\n", one.name, one.version, one.date, one.checks.size(), one.title);
    }
    if (form == Form::Json) output.data = document({{"checklists", all}});
    return output;
}

Json in_json(const desk::WorkshopView& view) {
    Json faults = Json::array(), differences = Json::array();
    for (const auto& fault : view.faults)
        faults.push_back({{"line", fault.line}, {"column", fault.column}, {"check", fault.check}, {"what", fault.what},
                          {"what_to_do", fault.what_to_do}, {"severity", fault.is_error ? "error" : "advice"}});
    for (const auto& one : view.differences)
        differences.push_back({{"check", one.check}, {"key", one.key}, {"words", one.words}, {"decides", one.decides}});
    return {{"checklist", view.checklist}, {"published", view.published}, {"checks", view.checks.size()}, {"findings", faults},
            {"differences", differences}, {"unready", view.unready}};
}

Output compare(const desk::WorkshopView& found, const std::string& file, Form form) {
    const auto* view = &found;
    Output output;
    output.code = std::any_of(view->faults.begin(), view->faults.end(), [](const auto& fault) { return fault.is_error; }) ? 1 : 0;
    if (form == Form::Json) {
        output.data = document(in_json(*view));
        return output;
    }
    for (const auto& fault : view->faults)
        output.data += fmt::format("{}:{}:{}: {}{}\n    {}\n", file, fault.line, fault.column, fault.is_error ? "" : "advice: ", fault.what, fault.what_to_do);
    std::string check{"none yet"};
    for (const auto& one : view->differences) {
        if (one.check != check) output.data += (one.check.empty() ? "the list" : one.check) + "\n";
        check = one.check;
        output.data += fmt::format("  {}{}\n", one.words, one.decides ? "" : " (words only)");
    }
    output.talk = view->published == 0 ? fmt::format("\"{}\" is a new list.\n", view->checklist)
                                       : fmt::format("{} differences to version {} of \"{}\".\n", view->differences.size(), view->published, view->checklist);
    if (!view->unready.empty()) output.talk += "Not to be published: " + view->unready + "\n";
    return output;
}

Output publish(desk::Desk& desk, const std::string& text, const std::string& why, Form form) {
    const auto done = desk::publish(desk, text, why);
    if (!done) return told_as(done.error(), form);
    if (form == Form::Json) return {document({{"checklist", done->checklist}, {"version", done->version}, {"file", done->file}}), "", 0};
    return {done->file + "\n", fmt::format("\"{}\" is published as version {}. New jobs are opened with it; open jobs keep theirs.\n", done->checklist, done->version), 0};
}

}  // namespace

Output run_checklist(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto what = arguments.word(1, "What to do (list, show, compare, publish)");
    if (!what) return told_as(what.error(), form);
    const bool publishes = *what == "publish";
    if (!publishes && *what != "list" && *what != "show" && *what != "compare")
        return told_as({fmt::format("There is no \"checklist {}\".", *what), "checklist", "Use checklist list, show, compare or publish.",
                        ProblemKind::WrongUse},
                       form);
    const auto named = *what == "list" ? Result<std::string>{""} : arguments.word(2, *what == "show" ? "The name of the list" : "The changed checklist");
    if (!named) return told_as(named.error(), form);
    std::string text;
    if (publishes || *what == "compare") {
        auto read = read_file(*named);
        if (!read) return told_as(read.error(), form);
        text = std::move(*read);
    }
    if (publishes) {
        auto desk = open_desk(world, desk::Access::Write);
        return desk ? publish(*desk, text, arguments.value("why"), form) : told_as(desk.error(), form);
    }
    // The lists are there before any journal is.
    const auto published = library_texts(world);
    if (!published) return told_as(published.error(), form);
    const auto library = desk::read_library(*published);
    if (!library) return told_as(library.error(), form);
    if (*what == "list") return list(**library, form);
    if (*what == "compare") return compare(desk::looked_at(*published, **library, text), *named, form);
    const auto shown = desk::published_text(*published, *named);
    if (!shown) return told_as(shown.error(), form);
    return {form == Form::Json ? document({{"checklist", *named}, {"text", *shown}}) : *shown, "", 0};
}

}  // namespace wm::app
