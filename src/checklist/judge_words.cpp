// The sentences of a judgement.
#include "checklist/judge_words.hpp"

#include <fmt/format.h>

#include <utility>

#include "checklist/derived_names.hpp"
#include "checklist/plain_expression.hpp"
#include "checklist/words.hpp"
#include "units/reading.hpp"

namespace wm::checklist {

const Setting* setting_in(std::string_view name, const Library& library) {
    constexpr std::string_view prefix = "setting.";
    return name.starts_with(prefix) ? library.setting_named(name.substr(prefix.size())) : nullptr;
}

std::string setting_text(const Setting& setting) {
    auto text = units::print_short(setting.value);
    return setting.unit.empty() ? text : text + " " + setting.unit;
}

namespace {

std::string value_text(const FactValue& value) {
    const auto* spec = fact_named(value.key);
    if (value.number && spec != nullptr) return amount_text(*value.number, spec->unit_in_use());
    return value.word;
}

}  // namespace

std::string condition_in_words(const Expression& expression, const Facts& facts) {
    std::vector<std::string> values;
    for (const auto& name : expression.names()) {
        const auto* spec = fact_named(name);
        if (spec == nullptr) continue;
        const auto* value = facts.find(name);
        values.push_back(fmt::format("{}: {}", spec->meaning,
                                     value == nullptr ? "not known" : value_text(*value)));
    }
    auto words = expression_in_words(expression, expression.root());
    if (!values.empty()) {
        std::string joined;
        for (const auto& value : values) joined += (joined.empty() ? "" : "; ") + value;
        words += " (" + joined + ")";
    }
    return words;
}

namespace {

void add_fact_line(std::vector<std::string>& lines, const std::string& key, const Facts& facts) {
    const auto* value = facts.find(key);
    const auto* spec = fact_named(key);
    if (value == nullptr || spec == nullptr) return;
    auto line = fmt::format("{} = {}", spec->meaning, value_text(*value));
    for (const auto& known : lines)
        if (known == line) return;
    lines.push_back(std::move(line));
}

}  // namespace

std::vector<std::string> derivation_of(const Expression& expression, const Given& given) {
    std::vector<std::string> lines;
    for (const auto& name : expression.names()) {
        add_fact_line(lines, name, given.context.facts);
        if (const auto* setting = setting_in(name, given.context.library))
            lines.push_back(fmt::format("{} = {}", setting->meaning, setting_text(*setting)));
        const auto* spec = derived_named(name);
        if (spec == nullptr) continue;
        for (const auto key : spec->needs)
            add_fact_line(lines, std::string{key}, given.context.facts);
        const auto value = derived_value(*spec, given.context);
        if (!value.is_known()) continue;
        const auto unit = units::unit_named(spec->unit).value_or(units::Unit{});
        lines.push_back(fmt::format("{} = {} = {}", spec->meaning, spec->formula,
                                    amount_text({*value.si, unit.dimension, unit.scale}, unit)));
    }
    lines.push_back("tolerance: " + expression_in_words(expression, expression.root(), &given.context.library));
    return lines;
}

std::string missing_in_words(const Missing& missing) {
    std::vector<std::string> items;
    for (const auto& key : missing.facts) {
        const auto* spec = fact_named(key);
        items.push_back(spec == nullptr ? key : fmt::format("{} ({})", spec->meaning, key));
    }
    for (const auto& id : missing.checks) items.push_back(fmt::format("the check {}", id));
    if (!items.empty()) return fmt::format("Still to be known: {}.", listed(items));
    return missing.trouble.empty() ? ""
                                   : fmt::format("It cannot be worked out: {}.", missing.trouble);
}

std::string reason_in_words(const measure::Judgement& judgement, const NumberWords& w) {
    using measure::Reason;
    switch (judgement.reason) {
        case Reason::BelowLow:
            return fmt::format("{} is below the lowest allowed, {}.", w.measured, w.low);
        case Reason::AboveHigh:
            return fmt::format("{} is above the highest allowed, {}.", w.measured, w.high);
        case Reason::InsideGuarded:
        case Reason::InsideSimple:
            if (w.uncertainty.empty())
                return fmt::format("{} keeps to what is allowed, {}.", w.measured, w.allowed);
            if (judgement.reason == Reason::InsideGuarded)
                return fmt::format(
                    "{} keeps to what is allowed, {}, even if the reading is off by its uncertainty "
                    "of {}.",
                    w.measured, w.allowed, w.uncertainty);
            return fmt::format(
                "{} keeps to what is allowed, {}. The reading may be off by its uncertainty of {}, "
                "which is little enough here.",
                w.measured, w.allowed, w.uncertainty);
        case Reason::InGuardStrip:
            return fmt::format(
                "{} reads as allowed, {}, but lies too close to the limit for this instrument: the "
                "reading may be off by its uncertainty of {}. Measure with a finer one; if there is "
                "none, treat it as not conforming.",
                w.measured, w.allowed, w.uncertainty);
        case Reason::TooCoarse:
            return fmt::format(
                "{} reads as allowed, {}, but this instrument is too coarse to tell: the reading "
                "may be off by its uncertainty of {}, more than a quarter of the room allowed. "
                "Measure with a finer one.",
                w.measured, w.allowed, w.uncertainty);
        case Reason::EmptyAcceptance:
            return fmt::format(
                "{} reads as allowed, {}, but this instrument is too coarse to tell: the reading "
                "may be off by its uncertainty of {}, and no reading at all could pass. Measure with "
                "a finer one.",
                w.measured, w.allowed, w.uncertainty);
        case Reason::NoLimit:
            return fmt::format("{} is recorded; nothing is demanded here.", w.measured);
    }
    return "";
}

}  // namespace wm::checklist
