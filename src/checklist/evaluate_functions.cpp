// The functions of plain numbers.
#include "checklist/evaluate_functions.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>

#include "plant/heat_limits.hpp"

namespace wm::checklist {
namespace {

using units::Amount;

tl::unexpected<Missing> no_value(std::string words) {
    Missing missing;
    missing.trouble = std::move(words);
    return tl::unexpected(std::move(missing));
}

}  // namespace

Evaluated plain_function(Function function, const std::vector<Amount>& a) {
    const auto smaller = [](const Amount& x, const Amount& y) { return x.si < y.si; };
    Amount first = a.front();
    switch (function) {
        case Function::Min:
            return *std::min_element(a.begin(), a.end(), smaller);
        case Function::Max:
            return *std::max_element(a.begin(), a.end(), smaller);
        case Function::Abs:
            first.si = std::abs(first.si);
            return first;
        // 11 * 4 / 10 is 4.4 and a rounding error away from it; a whole number stays whole.
        case Function::Ceil:
            first.si = std::ceil(first.si - 1e-9);
            return first;
        case Function::Floor:
            first.si = std::floor(first.si + 1e-9);
            return first;
        case Function::Round:
            first.si = std::round(first.si);
            return first;
        case Function::Sqrt:
            if (first.si < 0.0) return no_value("the root of a number below zero");
            first.si = std::sqrt(first.si);
            for (auto& exponent : first.dimension.exponents)
                exponent = static_cast<std::int8_t>(exponent / 2);
            return first;
        case Function::Clamp:
            if (a[1].si > a[2].si)
                return no_value("a clamp whose lower end lies above its upper end");
            first.si = std::clamp(first.si, a[1].si, a[2].si);
            return first;
        case Function::BearingGap: {
            constexpr double turn = 2.0 * std::numbers::pi;
            const double gap = std::abs(std::remainder(a[0].si - a[1].si, turn));
            return Amount{gap, first.dimension, first.scale};
        }
        case Function::FullRise: {
            const auto rise = plant::full_store_rise(units::Temperature::kelvin(a[0].si),
                                                     units::Temperature::kelvin(a[1].si));
            if (!rise) return no_value(rise.error().what);
            return Amount{rise->si(), units::unit_named("kPa")->dimension, units::Scale::Plain};
        }
        case Function::Known:
        case Function::OutcomeOf:
        case Function::AnswerOf:
        case Function::ValueOf:
        case Function::EarlierValueOf:
        case Function::First:
        case Function::Last:
        case Function::Smallest:
        case Function::Largest:
        case Function::Mean:
        case Function::Count:
        case Function::Duration:
        case Function::SmallestLate:
        case Function::LargestLate:
        case Function::MeanLate:
            break;
    }
    return no_value("a function without a meaning here");
}

}  // namespace wm::checklist
