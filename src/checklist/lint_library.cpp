// Linting cautions.toml and instruments.toml.
#include <fmt/format.h>

#include <set>

#include "checklist/conventions.hpp"
#include "checklist/lint_rules.hpp"
#include "checklist/types.hpp"
#include "units/reading.hpp"

namespace wm::checklist {
namespace {

void lint_figure(const InstrumentType& type, const std::optional<Expression>& figure,
                 std::string_view key, Findings& findings) {
    if (!figure) return;
    Scope scope;
    scope.names["reading"] = Type::number(type.unit);
    auto wanted = Type::number(type.unit);
    wanted.scale = units::Scale::Plain;
    if (const auto fault = fault_unless(*figure, scope, wanted))
        findings.error_in(figure->at(), figure->text(),
                          fmt::format("the {} of \"{}\"", key, type.id), *fault);
}

void lint_type(const InstrumentType& type, const Library& library, Findings& findings) {
    lint_figure(type, type.uncertainty, "uncertainty", findings);
    lint_figure(type, type.difference_uncertainty, "difference_uncertainty", findings);
    auto difference = type.unit;
    if (type.unit.scale == units::Scale::Point) difference = *units::unit_named("K");
    if (!units::read_amount(type.resolution, difference, type.id))
        findings.error(type.at,
                       fmt::format("the resolution of \"{}\" is \"{}\"", type.id, type.resolution),
                       fmt::format("Give it in {}.", units::units_like(difference)));
    for (const auto& mark : type.sources)
        if (library.source_marked(mark) == nullptr)
            findings.error(
                type.at,
                fmt::format("\"{}\" names the source \"{}\", which does not exist", type.id, mark),
                "Use the mark of a [[source]].");
}

}  // namespace

void lint_instruments(const Library& library, Findings& findings) {
    std::set<std::string> seen;
    for (const auto& type : library.instrument_types) {
        if (!seen.insert(type.id).second)
            findings.error(type.at,
                           fmt::format("the instrument type \"{}\" is there twice", type.id),
                           "Give each its own id.");
        lint_type(type, library, findings);
    }
    std::set<std::string> settings;
    for (const auto& setting : library.settings) {
        if (!settings.insert(setting.name).second)
            findings.error({}, fmt::format("the setting \"{}\" is there twice", setting.name),
                           "Keep one of them.");
        if (!units::unit_named(setting.unit) && !is_convention(setting.name))
            findings.error(
                {},
                fmt::format("the setting \"{}\" has the unit \"{}\", which this tool does not know",
                            setting.name, setting.unit),
                "Use a unit of the list in the guide.");
    }
}

void lint_cautions(const Library& library, Findings& findings) {
    std::set<std::string> seen;
    for (const auto& caution : library.cautions) {
        if (!seen.insert(caution.id).second)
            findings.error(caution.at, fmt::format("the caution \"{}\" is there twice", caution.id),
                           "Give each its own id.");
        if (caution.refer && library.caution_tail.empty())
            findings.error(
                caution.at,
                fmt::format("the caution \"{}\" refers to a tail that is not there", caution.id),
                "Add [tail] with its text.");
    }
}

}  // namespace wm::checklist
