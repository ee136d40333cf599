#include "desk/usual_reading.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "checklist/lint_rules.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

using checklist::Check;
using checklist::Context;
using checklist::Example;
using checklist::Limits;

std::optional<double> number_in(std::string_view text, const units::Unit& unit) {
    const auto entered = units::read_amount(text.substr(0, text.find(';')), unit, "usual reading");
    return entered ? std::optional{entered->amount().in(unit)} : std::nullopt;
}

std::optional<double> of_other_places(const ReadAt& at, const units::Unit& unit) {
    std::vector<double> values;
    for (const auto& reading : at.latest)
        if (reading.place != at.place && at.check.part_named(reading.place) == nullptr)
            if (const auto value = number_in(reading.text, unit)) values.push_back(*value);
    if (values.empty()) return std::nullopt;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// The text an example shows for the place; that of its first place where it has no such one.
std::string text_at(const Check& check, const Example& example, std::string_view place) {
    if (check.part_named(place) != nullptr) {
        const auto found = example.parts.find(std::string{place});
        return found == example.parts.end() ? std::string{} : found->second;
    }
    if (check.kind != checklist::Kind::Positions) return example.reading;
    const auto places = checklist::split_positions(check, example.reading);
    if (!places || places->empty()) return {};
    for (const auto& [name, text] : *places)
        if (name == place) return text;
    return places->front().second;
}

/// How much larger the limits of this house are than those of the example's house; 1 where that cannot be said.
double scale_of(const Limits& here, const Limits& there) {
    double product = 1.0;
    int sides = 0;
    const auto weigh = [&](const std::optional<units::Amount>& own, const std::optional<units::Amount>& its) {
        if (!own || !its || !here.unit || !there.unit) return;
        if (its->in(*here.unit) == 0.0) return;
        const double ratio = own->in(*here.unit) / its->in(*here.unit);
        if (ratio <= 0.0) return;
        product *= ratio;
        ++sides;
    };
    weigh(here.low, there.low);
    weigh(here.high, there.high);
    return sides == 2 ? std::sqrt(product) : product;
}

/// North of the equator a collector faces south: an example of the other half of the world says nothing here.
bool conforms_here(const ReadAt& at, const std::string& text, const Context& context) {
    const auto judged = checklist::judge_reading(at.check, {std::string{at.place}, text, std::nullopt, checklist::PhotoState::Attached}, context);
    return judged && judged->outcome == measure::Outcome::Conforms;
}

/// Of the conforming example whose house is most like this one by its limits.
std::optional<double> of_examples(const ReadAt& at, const units::Unit& unit, const Context& context) {
    const bool is_worked_out = at.check.measurand && at.check.part_named(at.place) == nullptr;
    std::optional<double> nearest;
    double distance = 0.0;
    for (const auto& example : at.check.examples) {
        if (example.expected != measure::Outcome::Conforms) continue;
        const auto text = text_at(at.check, example, at.place);
        const auto value = number_in(text, unit);
        if (!value) continue;
        if (is_worked_out) {
            if (conforms_here(at, text, context)) return value;
            continue;
        }
        const auto facts = checklist::facts_for(at.list, &example);
        const double scale = scale_of(at.limits, checklist::limits_for(at.check, at.place, {facts, context.library, context.today, {}, {}, {}, {}}));
        if (nearest && std::abs(std::log(scale)) >= distance) continue;
        nearest = *value * scale;
        distance = std::abs(std::log(scale));
    }
    return nearest;
}

/// Where no example says anything.
std::optional<double> of_limits(const Limits& limits, const std::optional<checklist::PlausibleRange>& plausible, const units::Unit& unit) {
    if (limits.high && !limits.low && limits.high->in(unit) > 0.0) return 0.6 * limits.high->in(unit);
    if (limits.low && !limits.high && limits.low->in(unit) > 0.0) return 1.4 * limits.low->in(unit);
    if (plausible && plausible->low >= 0.0) return (plausible->low + plausible->high) / 2.0;
    return std::nullopt;
}

}  // namespace

std::optional<double> usual_reading(const ReadAt& at, const Context& context) {
    const auto* part = at.check.part_named(at.place);
    const auto unit = part != nullptr ? part->unit : at.check.unit;
    if (!unit) return std::nullopt;
    if (part == nullptr) {
        if (const auto others = of_other_places(at, *unit)) return others;
        if (!at.check.measurand) {
            if (const auto earlier = context.earlier_value_of ? context.earlier_value_of(at.check.id) : std::nullopt) return earlier->in(*unit);
        }
    }
    const bool is_worked_out = at.check.measurand && part == nullptr;
    if (!is_worked_out && at.limits.target && at.limits.target->in(*unit) != 0.0) return at.limits.target->in(*unit);
    if (const auto example = of_examples(at, *unit, context)) return example;
    if (is_worked_out) return std::nullopt;
    return of_limits(at.limits, part != nullptr ? part->plausible : at.check.plausible, *unit);
}

}  // namespace wm::desk
