// The functions of the expression language: their names, arguments and what they are good for.
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace wm::checklist {

enum class Function {
    Min,
    Max,
    Abs,
    Ceil,
    Floor,
    Round,
    Sqrt,
    Clamp,
    BearingGap,
    FullRise,
    Known,
    OutcomeOf,
    AnswerOf,
    ValueOf,
    EarlierValueOf,
    First,
    Last,
    Smallest,
    Largest,
    Mean,
    Count,
    Duration,
    SmallestLate,
    LargestLate,
    MeanLate,
};

/// How a function is called; `example` is shown when it is called otherwise.
struct FunctionSpec {
    Function function;
    std::string_view name;
    int fewest;
    int most;
    std::string_view example;
    std::string_view meaning;  ///< what it gives
};

[[nodiscard]] std::span<const FunctionSpec> function_table();

[[nodiscard]] const FunctionSpec* function_named(std::string_view name);

/// first, last, smallest, largest, mean, count, duration and the late ones: over all points.
[[nodiscard]] bool is_over_points(Function function);
/// smallest_late and its like, whose first argument says how late.
[[nodiscard]] bool is_late(Function function);
/// outcome, answer, value, commissioning: of another check.
[[nodiscard]] bool asks_a_check(Function function);

}  // namespace wm::checklist
