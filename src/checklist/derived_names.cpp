// Looking up derived values, and the facts they are made of.
#include "checklist/derived_names.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>
#include <utility>

#include "checklist/derived_equations.hpp"
#include "checklist/judge.hpp"

namespace wm::checklist {

void Ingredients::note(std::string_view key) {
    if (std::find(missing_.begin(), missing_.end(), key) == missing_.end())
        missing_.emplace_back(key);
}

double Ingredients::si(std::string_view key) {
    const auto amount = facts_.number(key);
    if (!amount) note(key);
    return amount ? amount->si : 0.0;
}

int Ingredients::count(std::string_view key) {
    return static_cast<int>(std::lround(si(key)));
}

std::string Ingredients::word(std::string_view key) {
    auto word = facts_.word(key);
    if (!word) note(key);
    return word.value_or("");
}

std::string Ingredients::word_if_known(std::string_view key) const {
    return facts_.word(key).value_or("");
}

bool Ingredients::yes(std::string_view key) {
    const auto yes = facts_.yes(key);
    if (!yes) note(key);
    return yes.value_or(false);
}

std::optional<double> Ingredients::si_if_known(std::string_view key) const {
    const auto amount = facts_.number(key);
    return amount ? std::optional{amount->si} : std::nullopt;
}

double Ingredients::of_check_or_fact(const CheckId& check, std::string_view key) {
    const auto value = value_of_ ? value_of_(check) : std::nullopt;
    return value ? value->si : si(key);
}

const plant::Conventions& Ingredients::conventions() {
    if (!conventions_) conventions_ = conventions_of(library_);
    return *conventions_;
}

const std::vector<DerivedSpec>& derived_table() {
    static const std::vector<DerivedSpec> table = [] {
        auto all = derived_of_place();
        for (auto& spec : derived_of_water()) all.push_back(std::move(spec));
        for (auto& spec : derived_of_heat()) all.push_back(std::move(spec));
        return all;
    }();
    return table;
}

const DerivedSpec* derived_named(std::string_view name) {
    const auto& table = derived_table();
    const auto found = std::find_if(table.begin(), table.end(),
                                    [&](const DerivedSpec& spec) { return spec.name == name; });
    return found == table.end() ? nullptr : &*found;
}

const DerivedValue& DerivedValues::of(const DerivedSpec& spec) {
    const auto found = known_.find(spec.name);
    if (found != known_.end()) return found->second;
    Ingredients ingredients{facts_, library_, value_of_};
    auto si = spec.si(ingredients);
    return known_.emplace(spec.name, DerivedValue{std::move(si), ingredients.missing()})
        .first->second;
}

DerivedValue derived_value(const DerivedSpec& spec, const Context& context) {
    if (context.derived != nullptr) {
        assert(context.derived->is_about(context.facts) && "kept values are of these very facts");
        return context.derived->of(spec);
    }
    DerivedValues values{context.facts, context.library, context.value_of};
    return values.of(spec);
}

}  // namespace wm::checklist
