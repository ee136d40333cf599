// Working out an expression for one house: a value, or what is still missing for it.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "checklist/expression.hpp"
#include "checklist/judge.hpp"
#include "units/unit.hpp"

namespace wm::checklist {

/// An ISO day; apart from words so that days can be compared by size.
struct Day {
    std::string text;
    friend auto operator<=>(const Day&, const Day&) = default;
    friend bool operator==(const Day&, const Day&) = default;
};

using Value = std::variant<units::Amount, bool, std::string, Day>;

/// Readings over time, or over places: one row a point, one column a channel. Times in seconds,
/// rising; empty for places.
struct PointTable {
    std::vector<std::string> channels;  ///< as expressions call them; one "reading" if unnamed
    std::vector<double> times_s;
    std::vector<std::vector<units::Amount>> rows;
};

/// What an expression is worked out with. `names` holds reading, uncertainty, extras and parts; a
/// name of the check that is absent from it has not been read yet.
struct Given {
    const Context& context;
    std::map<std::string, Value, std::less<>> names;
    const PointTable* points = nullptr;
};

using Evaluated = tl::expected<Value, Missing>;

/// The value of the whole expression, which has passed the dimension check. `and`, `or` and `if`
/// look no further than they must; everything else gathers all that is missing. Comparisons
/// forgive 1e-12 of the larger figure, as the decision rule does.
[[nodiscard]] Evaluated evaluate(const Expression& expression, const Given& given);
/// The value of one node.
[[nodiscard]] Evaluated evaluate(const Expression& expression, std::uint32_t node,
                                 const Given& given);

/// For conditions and numbers: the value as such, or what is missing.
[[nodiscard]] tl::expected<bool, Missing> is_true(const Expression& expression, std::uint32_t node,
                                                  const Given& given);
[[nodiscard]] tl::expected<units::Amount, Missing> amount_of(const Expression& expression,
                                                             std::uint32_t node,
                                                             const Given& given);

/// All of both, each name once.
void gather(Missing& into, const Missing& more);

}  // namespace wm::checklist
