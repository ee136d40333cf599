#include "app/workout_command.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "audit/computations.hpp"
#include "measure/computations.hpp"
#include "plant/workout.hpp"
#include "units/reading.hpp"

namespace wm::app {

namespace {

using Json = nlohmann::ordered_json;

Json in_json(const units::OutputValue& value) {
    return std::visit(
        [](const auto& v) -> Json {
            using V = std::decay_t<decltype(v)>;
            if constexpr (std::is_same_v<V, std::monostate>) return nullptr;
            // An infinite weight or number of degrees of freedom is an answer; JSON has no number for it.
            else if constexpr (std::is_same_v<V, double>) return std::isinf(v) ? Json("inf") : Json(v);
            else return Json(v);
        },
        value);
}

Json in_json(const units::Argument& value) {
    return std::visit([](const auto& v) -> Json { return Json(v); }, value);
}

std::string in_text(const units::OutputValue& value) {
    if (const auto* number = std::get_if<double>(&value)) return units::print_short(*number, 9);
    if (const auto* text = std::get_if<std::string>(&value)) return *text;
    if (const auto* flag = std::get_if<bool>(&value)) return *flag ? "true" : "false";
    if (const auto* list = std::get_if<std::vector<double>>(&value)) {
        std::string all = "[";
        for (const double item : *list) all += (all.size() > 1 ? ", " : "") + units::print_short(item, 9);
        return all + "]";
    }
    if (std::holds_alternative<std::monostate>(value)) return "none";
    return in_json(value).dump();
}

Json symbols_json(const std::vector<units::Symbol>& symbols) {
    Json list = Json::array();
    for (const auto& symbol : symbols)
        list.push_back({{"symbol", symbol.name},
                        {"unit", symbol.unit},
                        {"meaning", symbol.meaning},
                        {"optional", symbol.optional}});
    return list;
}

Output listed(Form form) {
    Output output;
    if (form == Form::Json) {
        Json list = Json::array();
        for (const auto& c : all_computations())
            list.push_back({{"name", c.name},
                            {"title", c.title},
                            {"inputs", symbols_json(c.inputs)},
                            {"outputs", symbols_json(c.outputs)},
                            {"source", c.source}});
        output.data = Json{{"computations", list}}.dump() + "\n";
        return output;
    }
    for (const auto& c : all_computations())
        output.data += fmt::format("{:<24} {}\n{:<24} source: {}\n", c.name, c.title, "", c.source);
    return output;
}

std::string symbol_lines(const std::vector<units::Symbol>& symbols) {
    std::string lines;
    for (const auto& s : symbols)
        lines += fmt::format("  {:<12} {:<10} {}{}{}\n", s.name, s.unit.empty() ? "–" : s.unit, s.meaning,
                             s.optional ? " (may be left out)" : "",
                             s.range.empty() ? "" : "; " + s.range);
    return lines;
}

std::string explained(const units::Computation& c) {
    return fmt::format(
        "{}: {}\n\nOn site: {}\nEquation: {}\nSource: {}\nRange: {}\n\nIn:\n{}\nOut:\n{}\nWrite: witnessmark "
        "work-out {} {}=…\n",
        c.name, c.title, c.on_site, c.equation, c.source, c.range, symbol_lines(c.inputs),
        symbol_lines(c.outputs), c.name, c.inputs.empty() ? "" : c.inputs.front().name);
}

}  // namespace

const std::vector<units::Computation>& all_computations() {
    static const std::vector<units::Computation> all = [] {
        std::vector<units::Computation> table;
        for (auto part : {plant::plant_computations(), measure::measure_computations(), audit::audit_computations()})
            table.insert(table.end(), part.begin(), part.end());
        return table;
    }();
    return all;
}

Output run_work_out(const Arguments& arguments) {
    const Form form = arguments.has("json") ? Form::Json : Form::Text;
    if (arguments.has("list")) return listed(form);
    const auto name = arguments.word(1, "The name of the computation");
    if (!name) return told_as(name.error(), form);
    const auto* computation = units::computation_named(all_computations(), *name);
    if (computation == nullptr)
        return told_as({fmt::format("There is no computation \"{}\".", *name), "work-out",
                        "See witnessmark work-out --list for the names.", ProblemKind::WrongUse},
                       form);
    if (arguments.has("help")) return {explained(*computation), "", 0};
    std::vector<std::pair<std::string, std::string>> given;
    for (std::size_t i = 2; i < arguments.words.size(); ++i) {
        const auto& word = arguments.words[i];
        const auto equals = word.find('=');
        if (equals == std::string::npos)
            return told_as({fmt::format("\"{}\" is no symbol=value.", word), "work-out " + *name,
                            fmt::format("See witnessmark work-out {} --help.", *name),
                            ProblemKind::WrongUse},
                           form);
        given.emplace_back(word.substr(0, equals), word.substr(equals + 1));
    }
    const auto read = units::read_arguments(*computation, given);
    if (!read) return told_as(read.error(), form);
    const auto answer = units::work_out(*computation, given);
    if (!answer) return told_as(answer.error(), form);
    if (form == Form::Json) {
        Json inputs = Json::object();
        for (const auto& symbol : computation->inputs)
            if (const auto at = read->find(symbol.name); at != read->end())
                inputs[symbol.name] = {{"value", in_json(at->second)}, {"unit", symbol.unit}};
        Json outputs = Json::object();
        for (const auto& o : *answer) outputs[o.symbol] = {{"value", in_json(o.value)}, {"unit", o.unit}};
        return {Json{{"name", *name}, {"inputs", inputs}, {"outputs", outputs}, {"source", computation->source}}
                        .dump() +
                    "\n",
                "", 0};
    }
    Output output;
    for (const auto& o : *answer)
        output.data += fmt::format("{} = {}{}{}\n", o.symbol, in_text(o.value), o.unit.empty() ? "" : " ", o.unit);
    output.talk = fmt::format("Source: {}\n", computation->source);
    return output;
}

}  // namespace wm::app
