#include "checklist/parts_list.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "checklist/derived_names.hpp"
#include "checklist/facts.hpp"
#include "checklist/judge_words.hpp"
#include "checklist/table_reader.hpp"
#include "checklist/types.hpp"
#include "checklist/words.hpp"

namespace wm::checklist {

namespace {

/// Calls `each` with every name in braces and gives the text with what it answers in their place.
template <class Each>
std::string braces_filled(std::string_view text, Each&& each) {
    std::string filled;
    while (!text.empty()) {
        const auto open = text.find('{');
        const auto close = open == std::string_view::npos ? open : text.find('}', open);
        if (close == std::string_view::npos) break;
        filled += text.substr(0, open);
        filled += each(text.substr(open + 1, close - open - 1));
        text.remove_prefix(close + 1);
    }
    return filled + std::string{text};
}

void check_braces(TableReader& reader, std::string_view key, const std::string& text) {
    (void)braces_filled(text, [&](std::string_view name) {
        if (fact_named(name) == nullptr && derived_named(name) == nullptr)
            reader.error(key, fmt::format("{} of {} asks for \"{}\", which is no fact and no derived value", key, reader.whose(), name),
                         fmt::format("Did you mean {}?", nearest_fact(name)));
        return std::string{};
    });
}

void check_expression(const std::optional<Expression>& expression, std::string_view key, const Type& wanted,
                      const TableReader& reader, const Library& library, Findings& findings) {
    if (!expression) return;
    if (const auto fault = fault_unless(*expression, scope_of_facts(nullptr, &library), wanted))
        findings.error_in(expression->at(), expression->text(), fmt::format("{} of {}", key, reader.whose()), *fault);
}

bool kit_has(const Library& library, const std::string& check) {
    const auto* kit = library.checklist_named("kit");
    if (kit == nullptr) return false;
    return std::any_of(kit->checks.begin(), kit->checks.end(), [&](const Check& each) { return each.id.text == check; });
}

/// Another trade may have a kit and no commissioning of that name: then nothing is held against it.
void check_roof(TableReader& reader, const StorePart& part, const Library& library) {
    const auto* commissioning = library.checklist_named("commissioning");
    if (commissioning == nullptr) return;
    for (const auto& id : part.roof)
        if (commissioning->find(CheckId{id}) == nullptr)
            reader.error("roof", fmt::format("{} is asked about at \"{}\", which the commissioning does not hold", reader.whose(), id),
                         "Name checks of commissioning.toml.");
}

void check_plate(TableReader& reader, std::string_view key, const std::string& fact) {
    if (fact.empty()) return;
    const auto* spec = fact_named(fact);
    if (spec == nullptr || spec->type != FactType::Text || spec->personal)
        reader.error(key, fmt::format("{} of {} names \"{}\", which is no fact in plain words", key, reader.whose(), fact),
                     fmt::format("Did you mean {}?", nearest_fact(fact)));
}

StorePart part_of(const Item& table, const Library& library, Findings& findings) {
    StorePart part;
    part.at = table.at;
    const auto* id = table.find("id");
    TableReader reader{table, fmt::format("the part \"{}\"", id == nullptr ? "" : id->text), findings};
    part.id = reader.needed_text("id");
    part.check = reader.needed_text("check");
    part.name = reader.needed_text("name");
    part.note = reader.text("note");
    part.unit = reader.unit("unit").value_or(units::Unit{});
    part.amount = reader.expression("amount");
    part.applies = reader.expression("applies");
    part.sources = reader.texts("source");
    part.roof = reader.texts("roof");
    part.articles = reader.texts("article");
    part.serial = reader.text("serial");
    part.batch = reader.text("batch");
    reader.finish();
    if (reader.find("amount") == nullptr)
        reader.error("amount", fmt::format("{} has no amount", reader.whose()), "Add amount = \"1\" or an expression.");
    if (part.sources.empty())
        reader.error("source", fmt::format("{} names no source", reader.whose()), "Add source = [\"CP\"] or a better one.");
    for (const auto& mark : part.sources)
        if (std::none_of(library.sources.begin(), library.sources.end(), [&](const SourceMark& each) { return each.mark == mark; }))
            reader.error("source", fmt::format("{} names the unknown source \"{}\"", reader.whose(), mark),
                         "Use the mark of a [[source]] of instruments.toml, CP or PH.");
    if (!part.check.empty() && !kit_has(library, part.check))
        reader.error("check", fmt::format("{} is counted at \"{}\", which the kit does not hold", reader.whose(), part.check),
                     "Name a check of kit.toml.");
    for (const auto& article : part.articles)
        if (trimmed(article).empty())
            reader.error("article", fmt::format("{} names an article without a word", reader.whose()), "Write the number or model as on the plate.");
    check_roof(reader, part, library);
    check_plate(reader, "serial", part.serial);
    check_plate(reader, "batch", part.batch);
    check_braces(reader, "name", part.name);
    check_braces(reader, "note", part.note);
    check_expression(part.amount, "amount", Type::number(part.unit), reader, library, findings);
    check_expression(part.applies, "applies", Type::of(Sort::Truth), reader, library, findings);
    return part;
}

/// The value of one name for this house, or what is missing for it.
tl::expected<std::string, Missing> value_words(std::string_view name, const Given& given) {
    if (const auto* value = given.context.facts.find(std::string{name})) {
        const auto* spec = fact_named(name);
        if (value->number && spec != nullptr) return amount_text(*value->number, spec->unit_in_use());
        return value->word;
    }
    const auto expression = Expression::parse(std::string{name});
    if (!expression) return std::string{name};  // checked when it was loaded
    const auto amount = amount_of(*expression, expression->root(), given);
    if (!amount) return tl::unexpected(amount.error());
    const auto* spec = derived_named(name);
    return amount_text(*amount, units::unit_named(spec == nullptr ? "" : spec->unit).value_or(units::Unit{}));
}

std::string amount_words(const units::Amount& amount, const units::Unit& unit) {
    // A rounding error over a whole number is no further piece.
    const double steps = unit.symbol == "pieces" ? 1.0 : 10.0;
    const double up = std::ceil(amount.in(unit) * steps - 1e-9) / steps;
    return up == 1.0 && steps == 1.0 ? "1 piece" : amount_text(units::Amount::of(up, unit), unit);
}

}  // namespace

void read_parts(PartsList& list, const Item& document, const Library& library, Findings& findings) {
    TableReader file{document, "the file", findings};
    if (const auto* head = file.table("parts")) {
        TableReader reader{*head, "[parts]", findings};
        list.version = reader.whole("version").value_or(0);
        list.date = reader.day("date");
        list.reason = reader.needed_text("reason");
        reader.finish();
        if (list.version < 1)
            reader.error("version", "the list of parts has no version", "Add version = 1, and one more with each change.");
    } else {
        file.error("parts", "the list of parts has no head", "Begin it with [parts], version, date and reason.");
    }
    std::set<std::string> seen;
    for (const auto* table : file.tables("part")) {
        auto part = part_of(*table, library, findings);
        if (!seen.insert(part.id).second)
            findings.error(table->at, fmt::format("the part \"{}\" stands twice", part.id), "Give each part an id of its own.");
        list.parts.push_back(std::move(part));
    }
    file.finish();
}

Result<PartsList> load_parts(std::string_view text, std::string_view file_name, const Library& library) {
    const auto document = read_document(text, file_name);
    if (!document) return tl::unexpected(document.error());
    Findings findings{text};
    PartsList list;
    read_parts(list, *document, library, findings);
    if (const auto found = findings.taken(); !found.empty())
        return refused({found.front().what, place_of(file_name, found.front().at), found.front().what_to_do, ProblemKind::Unreadable});
    return list;
}

std::vector<PartNeeded> parts_needed(const PartsList& list, const Context& context) {
    std::vector<PartNeeded> needed;
    const Given given{context, {}, nullptr};
    for (const auto& part : list.parts) {
        PartNeeded row{.part = &part, .name = "", .note = "", .amount = "", .how = {}, .missing = {}};
        if (part.applies) {
            const auto applies = is_true(*part.applies, part.applies->root(), given);
            if (applies && !*applies) continue;
            if (!applies) gather(row.missing, applies.error());
            row.how.push_back("needed if " + condition_in_words(*part.applies, context.facts));
        }
        const auto filled = [&](const std::string& text) {
            return braces_filled(text, [&](std::string_view name) {
                const auto words = value_words(name, given);
                if (words) return *words;
                gather(row.missing, words.error());
                return std::string{"…"};
            });
        };
        row.name = filled(part.name);
        row.note = filled(part.note);
        auto lines = derivation_of(*part.amount, given);
        // The last line is the expression itself; an amount of "1" tells nobody anything.
        if (!lines.empty()) {
            lines.back() = "amount: " + lines.back().substr(lines.back().find(": ") + 2);
            if (part.amount->names().empty()) lines.pop_back();
        }
        row.how.insert(row.how.end(), lines.begin(), lines.end());
        if (const auto amount = amount_of(*part.amount, part.amount->root(), given)) {
            row.least = *amount;
            row.amount = amount_words(*amount, part.unit);
        } else {
            gather(row.missing, amount.error());
        }
        needed.push_back(std::move(row));
    }
    return needed;
}

}  // namespace wm::checklist
