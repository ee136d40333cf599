// One number out of many readings.
#include "checklist/evaluate_points.hpp"

#include <algorithm>
#include <cassert>

namespace wm::checklist {
namespace {

using units::Amount;

bool smaller(const Amount& a, const Amount& b) {
    return a.si < b.si;
}

Amount mean_of(const std::vector<Amount>& column) {
    double sum = 0.0;
    for (const auto& amount : column) sum += amount.si;
    Amount mean = column.front();
    mean.si = sum / static_cast<double>(column.size());
    return mean;
}

std::vector<Amount> late_part(const std::vector<Amount>& column, const std::vector<double>& times_s,
                              double late_s) {
    constexpr double rounding_s = 1e-6;
    std::vector<Amount> late;
    for (std::size_t i = 0; i < column.size(); ++i)
        if (times_s[i] >= times_s.back() - late_s - rounding_s) late.push_back(column[i]);
    return late;
}

Evaluated without_time() {
    Missing missing;
    missing.trouble = "a time where readings have none";
    return tl::unexpected(std::move(missing));
}

}  // namespace

Evaluated summary_of(Function function, const std::vector<Amount>& column,
                     const std::vector<double>& times_s, double late_s) {
    assert(!column.empty() && "the evaluator asks for points first");
    const bool needs_time = is_late(function) || function == Function::Duration;
    if (needs_time && times_s.size() != column.size()) return without_time();
    const auto part = is_late(function) ? late_part(column, times_s, late_s) : column;
    if (part.empty()) return without_time();
    switch (function) {
        case Function::First:
            return part.front();
        case Function::Last:
            return part.back();
        case Function::Smallest:
        case Function::SmallestLate:
            return *std::min_element(part.begin(), part.end(), smaller);
        case Function::Largest:
        case Function::LargestLate:
            return *std::max_element(part.begin(), part.end(), smaller);
        case Function::Mean:
        case Function::MeanLate:
            return mean_of(part);
        case Function::Count:
            return Amount::plain(static_cast<double>(part.size()));
        case Function::Duration:
            return Amount::of(times_s.back() - times_s.front(), *units::unit_named("s"));
        case Function::Min:
        case Function::Max:
        case Function::Abs:
        case Function::Ceil:
        case Function::Floor:
        case Function::Round:
        case Function::Sqrt:
        case Function::Clamp:
        case Function::BearingGap:
        case Function::FullRise:
        case Function::Known:
        case Function::OutcomeOf:
        case Function::AnswerOf:
        case Function::ValueOf:
        case Function::EarlierValueOf:
            break;
    }
    return without_time();
}

}  // namespace wm::checklist
