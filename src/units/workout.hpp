// Computations as a table: what each one wants, in which unit, and how it is evaluated by name.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "problem/result.hpp"

namespace wm::units {

/// Number "60 °C", List "[0, 5, 10] min", Table "[[3, 1], [1, 3]]", Text "isotropic", Flag
/// "true", Date "2026-06-21", Moment "2026-06-21T05:30:00Z" (or with an offset, "+02:00").
enum class Shape { Number, List, Table, Text, Flag, Date, Moment };

/// One input or output of a computation.
///
/// `unit` is a spelling that unit_named() knows, with one addition: "K(abs)" is a place on the
/// kelvin scale, where "K" is a difference. "Pa(abs)" refuses a gauge pressure and "bar(g)" an
/// absolute one; both take a pressure that says neither. "°C" takes kelvin as well.
///
/// Where an equation holds in every unit, the person chooses it: "any" keeps the numbers in the
/// unit they come in (the first one of a list), "like y" wants the unit that y came in, and "step
/// of y" the unit of a difference of two y (K where y is in °C). unit_given() then tells which it
/// was.
struct Symbol {
    std::string name;
    std::string unit;  ///< "" for a bare number, and for text, flags, dates and moments
    std::string meaning;
    bool optional = false;
    Shape shape = Shape::Number;
    std::string range{};     ///< in words, for people; the equation behind it is what refuses
    bool unbounded = false;  ///< of an output: infinity is an answer (a weight without end)
};

/// Numbers are in the unit of their symbol. A Date is kept as "2026-06-21", a Moment as
/// "2026-06-21T05:30:00Z".
using Argument =
    std::variant<double, std::vector<double>, std::vector<std::vector<double>>, std::string, bool>;
using Arguments = std::map<std::string, Argument, std::less<>>;

/// monostate: there is no such value (a median that is never reached), which is an answer too.
using OutputValue = std::variant<std::monostate, double, std::vector<double>, std::string, bool,
                                 std::vector<bool>, std::vector<std::string>>;

struct Output {
    std::string symbol;
    std::string unit;
    OutputValue value;
};

struct Computation {
    std::string name;  ///< "expansion-volume"
    std::string title{};
    std::string on_site{};   ///< what it is good for at a house
    std::string equation{};  ///< in words
    std::string source{};
    std::string range{};
    std::vector<Symbol> inputs{};
    std::vector<Symbol> outputs{};  ///< those that may come; one that cannot be known is left out
    std::function<Result<std::vector<Output>>(const Arguments&)> evaluate;
};

/// Texts as a person writes them ("t1", "15 °C") become arguments in the symbols' units. A text
/// without a unit is taken in the unit of the symbol. A list may carry one unit behind its
/// bracket or one behind each item, and a lone number ("50", "50 each") is a list of one. With
/// semicolons between the items, a comma is a decimal mark. An optional symbol given as "" or
/// "–" counts as left out.
///
/// Problems name computation and symbol. Unknown, doubled and missing symbols are WrongUse; a
/// text that cannot be read, a wrong dimension, a gauge pressure for an absolute one, a number that
/// is none (NaN, infinity), one beyond 1e18 in the unit of its symbol, and with a unit one other
/// than 0 below 1e-30, are Unreadable.
[[nodiscard]] Result<Arguments> read_arguments(
    const Computation& computation,
    const std::vector<std::pair<std::string, std::string>>& key_values);

/// read_arguments, then the evaluation. No output of the answer is ever NaN, and none is infinite
/// unless its symbol is unbounded.
[[nodiscard]] Result<std::vector<Output>> work_out(
    const Computation& computation,
    const std::vector<std::pair<std::string, std::string>>& key_values);

/// The computation of that name, nullptr if the table has none.
[[nodiscard]] const Computation* computation_named(const std::vector<Computation>& table,
                                                   std::string_view name);

/// For the functions behind `evaluate`: what read_arguments has let in. Asking for a symbol that
/// the table does not declare, or in another shape, is our mistake and stops the program.
[[nodiscard]] bool is_given(const Arguments& arguments, std::string_view symbol);
[[nodiscard]] double number_of(const Arguments& arguments, std::string_view symbol);
[[nodiscard]] std::optional<double> number_if_given(const Arguments& arguments,
                                                    std::string_view symbol);
[[nodiscard]] const std::vector<double>& list_of(const Arguments& arguments,
                                                 std::string_view symbol);
[[nodiscard]] const std::vector<std::vector<double>>& table_of(const Arguments& arguments,
                                                               std::string_view symbol);
[[nodiscard]] const std::string& text_of(const Arguments& arguments, std::string_view symbol);
[[nodiscard]] bool flag_of(const Arguments& arguments, std::string_view symbol);

/// The symbol of the unit that an "any", "like …" or "step of …" symbol is in, "" for bare numbers
/// and where nothing was given.
[[nodiscard]] std::string unit_given(const Arguments& arguments, std::string_view symbol);

/// The unit of a difference of two such values: "K" for "°C", "kPa" for "kPa(g)", else the same.
[[nodiscard]] std::string step_unit_given(const Arguments& arguments, std::string_view symbol);

}  // namespace wm::units
