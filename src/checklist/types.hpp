// The dimension check: what an expression means before any number is known.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "checklist/check_id.hpp"
#include "checklist/expression.hpp"
#include "checklist/model.hpp"
#include "units/unit.hpp"

namespace wm::checklist {

/// Any: only known once the job runs, such as a value of another checklist; it fits everything.
enum class Sort { Number, Truth, Word, Date, Any };

struct Type {
    Sort sort = Sort::Any;
    units::Dimension dimension{};
    units::Scale scale = units::Scale::Plain;

    [[nodiscard]] static Type number(const units::Unit& unit) {
        return {Sort::Number, unit.dimension, unit.scale};
    }
    [[nodiscard]] static Type of(Sort sort) { return {sort, {}, units::Scale::Plain}; }
    friend bool operator==(const Type&, const Type&) = default;
};

/// "a pressure", "a yes or no", "a word".
[[nodiscard]] std::string in_words(const Type& type);

/// The names an expression may use beside facts, derived values, settings and `today`.
struct Scope {
    std::map<std::string, Type, std::less<>> names;     ///< reading, uncertainty, extras, parts
    std::map<std::string, std::vector<std::string>, std::less<>> words;  ///< all that a name of `names` can be
    std::map<std::string, Type, std::less<>> channels;  ///< inside first(), mean(), … only
    std::optional<Type> points;              ///< of first, mean, … written without a channel
    std::optional<Type> channel_of_reading;  ///< what `reading` is inside mean() and the like
    const Library* library = nullptr;
    const Checklist* own = nullptr;  ///< the checks outcome(), answer(), value() may ask for
};

/// The type of the whole expression, or the first thing in it that cannot be meant. The fault
/// reads on from "the tolerance of …": "compares a pressure with a temperature".
[[nodiscard]] tl::expected<Type, Expression::Fault> type_of(const Expression& expression,
                                                            const Scope& scope);

/// As type_of, and it must be the wanted type; a number must fit its dimension and scale.
[[nodiscard]] std::optional<Expression::Fault> fault_unless(const Expression& expression,
                                                            const Scope& scope, const Type& wanted);

/// The names an expression of this check may use: for `tolerance` the number that is judged is
/// `reading`; for `measurand` it is what was entered.
[[nodiscard]] Scope scope_of_tolerance(const Check& check, const Checklist* own,
                                       const Library* library);
[[nodiscard]] Scope scope_of_measurand(const Check& check, const Checklist* own,
                                       const Library* library);
[[nodiscard]] Scope scope_of_part(const Part& part, const Checklist* own, const Library* library);
/// For `applies` of a part: facts, and the main answer of its check as `answer`.
[[nodiscard]] Scope scope_of_part_applies(const Check& check, const Checklist* own, const Library* library);
/// For `applies`, `places_from` and the like: nothing has been read yet.
[[nodiscard]] Scope scope_of_facts(const Checklist* own, const Library* library);

/// How `applies` of a part calls the main answer of its check.
inline constexpr std::string_view main_answer = "answer";

/// A name as expressions write it: "water start" is water_start.
[[nodiscard]] std::string as_name(std::string_view words);

}  // namespace wm::checklist
