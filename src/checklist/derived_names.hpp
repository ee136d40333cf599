// The derived values `d.…` that expressions may name, bound to the equations of the plant.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "checklist/conventions.hpp"
#include "checklist/facts.hpp"
#include "checklist/model.hpp"
#include "problem/result.hpp"
#include "units/unit.hpp"

namespace wm::checklist {

struct Context;

/// Hands a derived value the facts it is made of, and keeps in mind which of them were missing.
class Ingredients {
public:
    Ingredients(const Facts& facts, const Library& library,
                const std::function<std::optional<units::Amount>(const CheckId&)>& value_of)
        : facts_{facts}, library_{library}, value_of_{value_of} {}

    /// SI value; 0 and a note if the fact is missing.
    double si(std::string_view key);
    int count(std::string_view key);
    std::string word(std::string_view key);
    /// "" where the fact is not known; its absence is nothing to complain about.
    std::string word_if_known(std::string_view key) const;
    bool yes(std::string_view key);
    /// SI value where the fact is known, likewise.
    std::optional<double> si_if_known(std::string_view key) const;
    /// SI value of another check of the job, else of the fact.
    double of_check_or_fact(const CheckId& check, std::string_view key);

    /// Read from the settings of the library when first asked for.
    [[nodiscard]] const plant::Conventions& conventions();
    [[nodiscard]] const std::vector<std::string>& missing() const { return missing_; }

private:
    void note(std::string_view key);
    const Facts& facts_;
    const Library& library_;
    const std::function<std::optional<units::Amount>(const CheckId&)>& value_of_;
    std::vector<std::string> missing_;
    std::optional<plant::Conventions> conventions_;
};

/// One derived value: its unit, its formula in words for the derivation, and how it is worked out.
struct DerivedSpec {
    std::string_view name;  ///< "d.p_test_kpa"
    std::string_view unit;
    std::string_view meaning;  ///< a noun phrase
    std::string_view formula;
    std::string_view work_out;  ///< name of the computation behind it, "" if it is none of them
    std::string_view source;    ///< of equation and constants, or that there is none
    std::vector<std::string_view> needs;  ///< keys of facts, for the derivation
    Result<double> (*si)(
        Ingredients&);  ///< in SI units; not to be used if an ingredient was missing
};

[[nodiscard]] const std::vector<DerivedSpec>& derived_table();
[[nodiscard]] const DerivedSpec* derived_named(std::string_view name);

/// What working out a derived value led to.
struct DerivedValue {
    Result<double> si;                 ///< in SI units; means nothing where a fact was missing
    std::vector<std::string> missing;  ///< keys of facts

    [[nodiscard]] bool is_known() const { return si && missing.empty(); }
};

/// The derived values of one set of facts, each worked out once, when it is first asked for: a
/// tolerance may name one two hundred times. Facts, library and answers of checks must outlive
/// this and stay as they are; other facts want another one.
class DerivedValues {
public:
    using ValueOf = std::function<std::optional<units::Amount>(const CheckId&)>;
    DerivedValues(const Facts& facts, const Library& library, const ValueOf& value_of)
        : facts_{facts}, library_{library}, value_of_{value_of} {}
    DerivedValues(const Facts& facts, const Library& library, ValueOf&& value_of) = delete;

    [[nodiscard]] const DerivedValue& of(const DerivedSpec& spec);
    /// How many were worked out so far.
    [[nodiscard]] std::size_t count() const { return known_.size(); }
    [[nodiscard]] bool is_about(const Facts& facts) const { return &facts == &facts_; }

private:
    const Facts& facts_;
    const Library& library_;
    const ValueOf& value_of_;
    std::map<std::string_view, DerivedValue> known_;
};

/// One derived value of a context, from those it keeps if it keeps any.
[[nodiscard]] DerivedValue derived_value(const DerivedSpec& spec, const Context& context);

}  // namespace wm::checklist
