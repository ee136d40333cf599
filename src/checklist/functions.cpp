// The table of functions.
#include "checklist/functions.hpp"

#include <array>

namespace wm::checklist {
namespace {

constexpr int any_number = 32;

constexpr std::array table{
    FunctionSpec{Function::Min, "min", 1, any_number, "min(sys.tank_max_kpa, 600 kPa)", "the smallest of them"},
    FunctionSpec{Function::Max, "max", 1, any_number, "max(10 kPa, 0.02 * first)", "the largest of them"},
    FunctionSpec{Function::Abs, "abs", 1, 1, "abs(water_end - water_start)", "without its sign"},
    FunctionSpec{Function::Ceil, "ceil", 1, 1, "ceil(11 * d.fix_n / 10)", "the next whole number up"},
    FunctionSpec{Function::Floor, "floor", 1, 1, "floor(d.fix_n / 2)", "the next whole number down"},
    FunctionSpec{Function::Round, "round", 1, 1, "round(d.fix_n / 2)", "the nearest whole number"},
    FunctionSpec{Function::Sqrt, "sqrt", 1, 1, "sqrt(wx.irradiance / 800 W/m²)", "the square root of a bare number"},
    FunctionSpec{Function::Clamp, "clamp", 3, 3, "clamp(sys.tilt_target, 20°, 50°)", "the first, kept between second and third"},
    FunctionSpec{Function::BearingGap, "bearing_gap", 2, 2, "bearing_gap(reading, sys.az_target)", "the smaller turn between two directions of the compass"},
    FunctionSpec{Function::FullRise, "full_rise", 2, 2, "full_rise(water_start, water_end)", "how far the pressure of a full, shut store moves when its water goes from the first temperature to the second"},
    FunctionSpec{Function::Known, "known", 1, 1, "known(sys.min_rise_mm)", "whether a fact is known"},
    FunctionSpec{Function::OutcomeOf, "outcome", 1, 1, "outcome('sun-window')", "the outcome of another check, as 'conforms'"},
    FunctionSpec{Function::AnswerOf, "answer", 1, 1, "answer('hole-flashed')", "the word another check was answered with"},
    FunctionSpec{Function::ValueOf, "value", 1, 1, "value('pressure-limit-set')", "the figure another check was answered with"},
    FunctionSpec{Function::EarlierValueOf, "commissioning", 1, 1,
                 "commissioning('pressure-limit-set')", "that figure as it was at the commissioning of the house"},
    FunctionSpec{Function::First, "first", 1, 1, "first(riser)", "of the points of a series: the first"},
    FunctionSpec{Function::Last, "last", 1, 1, "last(riser)", "the last point"},
    FunctionSpec{Function::Smallest, "smallest", 1, 1, "smallest(riser - downcomer)", "the smallest over all points"},
    FunctionSpec{Function::Largest, "largest", 1, 1, "largest(riser)", "the largest over all points"},
    FunctionSpec{Function::Mean, "mean", 1, 1, "mean(reading)", "the mean over all points"},
    FunctionSpec{Function::Count, "count", 1, 1, "count(reading)", "how many points there are"},
    FunctionSpec{Function::Duration, "duration", 1, 1, "duration(riser)", "the time from the first point to the last"},
    FunctionSpec{Function::SmallestLate, "smallest_late", 2, 2,
                 "smallest_late(10 min, riser - downcomer)", "the smallest over the points of the last stretch, whose length stands first"},
    FunctionSpec{Function::LargestLate, "largest_late", 2, 2, "largest_late(10 min, riser)", "the largest over that stretch"},
    FunctionSpec{Function::MeanLate, "mean_late", 2, 2, "mean_late(10 min, riser)", "the mean over that stretch"},
};

}  // namespace

std::span<const FunctionSpec> function_table() { return table; }

const FunctionSpec* function_named(std::string_view name) {
    for (const auto& spec : table)
        if (spec.name == name) return &spec;
    return nullptr;
}

bool is_over_points(Function function) {
    return function == Function::First || function == Function::Last ||
           function == Function::Smallest || function == Function::Largest ||
           function == Function::Mean || function == Function::Count ||
           function == Function::Duration || is_late(function);
}

bool is_late(Function function) {
    return function == Function::SmallestLate || function == Function::LargestLate ||
           function == Function::MeanLate;
}

bool asks_a_check(Function function) {
    return function == Function::OutcomeOf || function == Function::AnswerOf ||
           function == Function::ValueOf || function == Function::EarlierValueOf;
}

}  // namespace wm::checklist
