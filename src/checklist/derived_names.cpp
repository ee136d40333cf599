// Looking up derived values, and the facts they are made of.
#include "checklist/derived_names.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

#include "checklist/derived_equations.hpp"

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

}  // namespace wm::checklist
