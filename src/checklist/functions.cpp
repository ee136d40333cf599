// The table of functions.
#include "checklist/functions.hpp"

#include <array>

namespace wm::checklist {
namespace {

constexpr int any_number = 32;

constexpr std::array table{
    FunctionSpec{Function::Min, "min", 1, any_number, "min(sys.tank_max_kpa, 600 kPa)"},
    FunctionSpec{Function::Max, "max", 1, any_number, "max(10 kPa, 0.02 * first)"},
    FunctionSpec{Function::Abs, "abs", 1, 1, "abs(water_end - water_start)"},
    FunctionSpec{Function::Ceil, "ceil", 1, 1, "ceil(11 * d.fix_n / 10)"},
    FunctionSpec{Function::Floor, "floor", 1, 1, "floor(d.fix_n / 2)"},
    FunctionSpec{Function::Round, "round", 1, 1, "round(d.fix_n / 2)"},
    FunctionSpec{Function::Sqrt, "sqrt", 1, 1, "sqrt(wx.irradiance / 800 W/m²)"},
    FunctionSpec{Function::Clamp, "clamp", 3, 3, "clamp(sys.tilt_target, 20°, 50°)"},
    FunctionSpec{Function::BearingGap, "bearing_gap", 2, 2, "bearing_gap(reading, sys.az_target)"},
    FunctionSpec{Function::FullRise, "full_rise", 2, 2, "full_rise(water_start, water_end)"},
    FunctionSpec{Function::Known, "known", 1, 1, "known(sys.min_rise_mm)"},
    FunctionSpec{Function::OutcomeOf, "outcome", 1, 1, "outcome('sun-window')"},
    FunctionSpec{Function::AnswerOf, "answer", 1, 1, "answer('hole-flashed')"},
    FunctionSpec{Function::ValueOf, "value", 1, 1, "value('pressure-limit-set')"},
    FunctionSpec{Function::EarlierValueOf, "commissioning", 1, 1,
                 "commissioning('pressure-limit-set')"},
    FunctionSpec{Function::First, "first", 1, 1, "first(riser)"},
    FunctionSpec{Function::Last, "last", 1, 1, "last(riser)"},
    FunctionSpec{Function::Smallest, "smallest", 1, 1, "smallest(riser - downcomer)"},
    FunctionSpec{Function::Largest, "largest", 1, 1, "largest(riser)"},
    FunctionSpec{Function::Mean, "mean", 1, 1, "mean(reading)"},
    FunctionSpec{Function::Count, "count", 1, 1, "count(reading)"},
    FunctionSpec{Function::Duration, "duration", 1, 1, "duration(riser)"},
    FunctionSpec{Function::SmallestLate, "smallest_late", 2, 2,
                 "smallest_late(10 min, riser - downcomer)"},
    FunctionSpec{Function::LargestLate, "largest_late", 2, 2, "largest_late(10 min, riser)"},
    FunctionSpec{Function::MeanLate, "mean_late", 2, 2, "mean_late(10 min, riser)"},
};

}  // namespace

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
