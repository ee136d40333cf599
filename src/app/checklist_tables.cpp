// `manual functions`: what may stand in a checklist, from the tables that read it.
#include <fmt/format.h>

#include "app/manual.hpp"
#include "checklist/derived_names.hpp"
#include "checklist/facts.hpp"
#include "checklist/functions.hpp"
#include "units/unit_list.hpp"

namespace wm::app {

namespace {

/// In a cell of a Markdown table a bar would begin the next.
std::string cell(std::string_view text) {
    std::string out;
    for (const char c : text) out += c == '|' ? std::string{"\\|"} : std::string{c};
    return out;
}

std::string code(std::string_view text) { return text.empty() ? "" : fmt::format("`{}`", cell(text)); }

std::string choices_or_unit(const checklist::FactSpec& fact) {
    if (!fact.choices.empty()) return cell(fact.choices);
    std::string words = code(fact.unit);
    if (fact.low || fact.high)
        words += fmt::format(" {} to {}", fact.low ? fmt::format("{:g}", *fact.low) : "…", fact.high ? fmt::format("{:g}", *fact.high) : "…");
    return words;
}

}  // namespace

std::string checklist_tables() {
    std::string text = "## Functions\n\n| written so | gives |\n|---|---|\n";
    for (const auto& function : checklist::function_table())
        text += fmt::format("| {} | {} |\n", code(function.example), cell(function.meaning));
    text += "\n## Units\n\nThe first spelling is the one that is printed.\n\n| unit | also | of |\n|---|---|---|\n";
    for (const auto& [unit, also] : units::all_units()) {
        std::string spellings;
        for (const auto other : also) spellings += (spellings.empty() ? "" : ", ") + code(other);
        text += fmt::format("| {} | {} | {} |\n", code(unit.symbol), spellings, units::dimension_in_words(unit.dimension, unit.scale));
    }
    text += "\n## Facts of a house\n\n| fact | unit and plausible range, or words | is |\n|---|---|---|\n";
    for (const auto& fact : checklist::fact_table())
        text += fmt::format("| {} | {} | {}{} |\n", code(fact.key), choices_or_unit(fact), cell(fact.meaning),
                            fact.personal ? "; personal, goes with an erasure" : "");
    text += "\n## Values that are worked out\n\n| name | unit | is | how | source |\n|---|---|---|---|---|\n";
    for (const auto& derived : checklist::derived_table())
        text += fmt::format("| {} | {} | {} | {} | {} |\n", code(derived.name), code(derived.unit), cell(derived.meaning),
                            code(derived.formula), cell(derived.source));
    return text;
}

}  // namespace wm::app
