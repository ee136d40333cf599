#include "checklist/failure_list.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "checklist/table_reader.hpp"
#include "checklist/types.hpp"
#include "checklist/words.hpp"

namespace wm::checklist {

namespace {

constexpr std::array<std::pair<std::string_view, Weather>, 5> weathers = {{{"frost", Weather::Frost},
                                                                           {"heat", Weather::Heat},
                                                                           {"sun", Weather::Sun},
                                                                           {"rain", Weather::Rain},
                                                                           {"gale", Weather::Gale}}};
/// Who calls about what is on no list still calls.
constexpr std::string_view something_else = "other";

bool holds_check(const Library& library, const std::string& id) {
    return std::any_of(library.checklists.begin(), library.checklists.end(),
                       [&](const Checklist& list) { return list.find(CheckId{id}) != nullptr; });
}

void check_sources(TableReader& reader, const std::vector<std::string>& sources, const Library& library) {
    if (sources.empty()) reader.error("source", fmt::format("{} names no source", reader.whose()), "Add source = [\"CP\"] or a better one.");
    for (const auto& mark : sources)
        if (library.source_marked(mark) == nullptr)
            reader.error("source", fmt::format("{} names the unknown source \"{}\"", reader.whose(), mark),
                         "Use the mark of a [[source]] of instruments.toml, CP or PH.");
}

std::string id_of(const Item& table, std::string_view key) {
    const auto* id = table.find(key);
    return id == nullptr ? "" : id->text;
}

double above_zero(TableReader& reader, std::string_view key, double otherwise) {
    const auto number = reader.number(key);
    if (number && *number > 0.0) return *number;
    if (number || reader.find(key) == nullptr)
        reader.error(key, fmt::format("{} has no {} above 0", reader.whose(), key), fmt::format("Add {} = 1.", key));
    return otherwise;
}

Symptom symptom_of(const Item& table, Findings& findings) {
    TableReader reader{table, fmt::format("the symptom \"{}\"", id_of(table, "id")), findings};
    Symptom symptom;
    symptom.at = table.at;
    symptom.id = reader.needed_text("id");
    symptom.words = reader.needed_text("words");
    symptom.at_once = reader.text("at_once");
    reader.finish();
    return symptom;
}

Weather weather_of(TableReader& reader) {
    const auto word = reader.text("weather");
    if (word.empty()) return Weather::Any;
    for (const auto& [name, weather] : weathers)
        if (name == word) return weather;
    reader.error("weather", fmt::format("{} comes with \"{}\", which is no weather", reader.whose(), word),
                 "Use frost, heat, sun, rain or gale, or leave it out.");
    return Weather::Any;
}

FailureMode failure_of(const Item& table, const FailureList& list, const Library& library, Findings& findings) {
    TableReader reader{table, fmt::format("the failure \"{}\"", id_of(table, "id")), findings};
    FailureMode failure;
    failure.at = table.at;
    failure.id = reader.needed_text("id");
    failure.mode = reader.needed_text("mode");
    failure.looks_like = reader.needed_text("looks_like");
    failure.cause = reader.needed_text("cause");
    failure.symptoms = reader.texts("symptoms");
    failure.checks = reader.texts("checks");
    failure.look_also = reader.needed_text("look_also");
    failure.often = above_zero(reader, "often", 1.0);
    failure.weather = weather_of(reader);
    failure.needs = reader.expression("needs");
    failure.sources = reader.texts("source");
    reader.finish();
    check_sources(reader, failure.sources, library);
    if (failure.symptoms.empty())
        reader.error("symptoms", fmt::format("nobody would notice {}", reader.whose()), "Name the symptoms it shows itself by.");
    for (const auto& id : failure.symptoms)
        if (list.symptom(id) == nullptr)
            reader.error("symptoms", fmt::format("{} has the symptom \"{}\", which is not listed", reader.whose(), id),
                         "Use the id of a [[symptom]].");
    if (failure.checks.empty())
        reader.error("checks", fmt::format("no check catches {}", reader.whose()), "Name the checks that would have caught it.");
    for (const auto& id : failure.checks)
        if (!holds_check(library, id))
            reader.error("checks", fmt::format("{} is caught by \"{}\", which no checklist holds", reader.whose(), id),
                         "Use the id of a check.");
    if (failure.needs)
        if (const auto fault = fault_unless(*failure.needs, scope_of_facts(nullptr, &library), Type::of(Sort::Truth)))
            findings.error_in(failure.needs->at(), failure.needs->text(), fmt::format("needs of {}", reader.whose()), *fault);
    return failure;
}

void read_weight(FailureList& list, const Item& table, const Library& library, Findings& findings) {
    TableReader reader{table, fmt::format("the weight \"{}\"", id_of(table, "when")), findings};
    const auto when = reader.needed_text("when");
    LikelihoodWeight weight;
    weight.at = table.at;
    weight.factor = above_zero(reader, "factor", 1.0);
    weight.words = reader.needed_text("words");
    weight.sources = reader.texts("source");
    reader.finish();
    check_sources(reader, weight.sources, library);
    const auto& names = weight_names();
    if (std::find(names.begin(), names.end(), when) == names.end())
        reader.error("when", fmt::format("\"{}\" is nothing that is weighed", when), fmt::format("Use one of: {}.", fmt::join(names, ", ")));
    if (!list.weights.emplace(when, std::move(weight)).second)
        reader.error("when", fmt::format("{} stands twice", reader.whose()), "Keep one of them.");
}

void check_whole(const FailureList& list, Findings& findings) {
    for (const auto& symptom : list.symptoms) {
        const bool has = std::any_of(list.failures.begin(), list.failures.end(), [&](const FailureMode& failure) {
            return std::find(failure.symptoms.begin(), failure.symptoms.end(), symptom.id) != failure.symptoms.end();
        });
        if (!has && symptom.id != something_else)
            findings.error(symptom.at, fmt::format("no failure has the symptom \"{}\"", symptom.id), "Name it with a failure, or leave it out.");
    }
    for (const auto name : weight_names())
        if (!list.weights.contains(name))
            findings.error({1, 1}, fmt::format("the weight \"{}\" is missing", name), "Add a [[weight]] with when, factor, words and source.");
}

template <class Row>
void report_twice(const std::vector<Row>& rows, std::string_view what, Findings& findings) {
    std::set<std::string_view> seen;
    for (const auto& row : rows)
        if (!seen.insert(row.id).second)
            findings.error(row.at, fmt::format("the {} \"{}\" stands twice", what, row.id), "Give each an id of its own.");
}

}  // namespace

const std::vector<std::string_view>& weight_names() {
    static const std::vector<std::string_view> names = {
        "does not conform", "accepted as it is", "never read",   "put off",         "in doubt",    "put right",      "left out",
        "conforms",         "weather fits",      "weather against", "season fits", "season against", "site against record"};
    return names;
}

const Symptom* FailureList::symptom(std::string_view id) const {
    const auto found = std::find_if(symptoms.begin(), symptoms.end(), [&](const Symptom& one) { return one.id == id; });
    return found == symptoms.end() ? nullptr : &*found;
}

const FailureMode* FailureList::failure(std::string_view id) const {
    const auto found = std::find_if(failures.begin(), failures.end(), [&](const FailureMode& one) { return one.id == id; });
    return found == failures.end() ? nullptr : &*found;
}

void read_failures(FailureList& list, const Item& document, const Library& library, Findings& findings) {
    TableReader file{document, "the file", findings};
    if (const auto* head = file.table("failures")) {
        TableReader reader{*head, "[failures]", findings};
        list.version = reader.whole("version").value_or(0);
        list.date = reader.day("date");
        list.reason = reader.needed_text("reason");
        reader.finish();
        if (list.version < 1)
            reader.error("version", "the list of failures has no version", "Add version = 1, and one more with each change.");
    } else {
        file.error("failures", "the list of failures has no head", "Begin it with [failures], version, date and reason.");
    }
    for (const auto* table : file.tables("symptom")) list.symptoms.push_back(symptom_of(*table, findings));
    for (const auto* table : file.tables("failure")) list.failures.push_back(failure_of(*table, list, library, findings));
    for (const auto* table : file.tables("weight")) read_weight(list, *table, library, findings);
    file.finish();
    report_twice(list.symptoms, "symptom", findings);
    report_twice(list.failures, "failure", findings);
    check_whole(list, findings);
}

Result<FailureList> load_failures(std::string_view text, std::string_view file_name, const Library& library) {
    const auto document = read_document(text, file_name);
    if (!document) return tl::unexpected(document.error());
    Findings findings{text};
    FailureList list;
    read_failures(list, *document, library, findings);
    if (const auto found = findings.taken(); !found.empty())
        return refused({found.front().what, place_of(file_name, found.front().at), found.front().what_to_do, ProblemKind::Unreadable});
    return list;
}

}  // namespace wm::checklist
