#include "plant/inputs.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "units/reading.hpp"

namespace wm::plant {

namespace {
std::string with_unit(double value, std::string_view unit) {
    const auto number = units::print_short(value);
    if (unit.empty()) return number;
    return unit == "°" ? number + "°" : fmt::format("{} {}", number, unit);
}
}  // namespace

Inputs& Inputs::finite(std::string_view name, double value) {
    if (!std::isfinite(value))
        complain(fmt::format("The {} is not a number.", name),
                 "Give it as a plain decimal number.");
    return *this;
}

Inputs& Inputs::positive(std::string_view name, double value, std::string_view unit) {
    finite(name, value);
    if (!(value > 0.0))
        complain(
            fmt::format("The {} is {}, but must be more than zero.", name, with_unit(value, unit)),
            "Check the reading and its unit.");
    return *this;
}

Inputs& Inputs::not_negative(std::string_view name, double value, std::string_view unit) {
    finite(name, value);
    if (!(value >= 0.0))
        complain(
            fmt::format("The {} is {}, but cannot be below zero.", name, with_unit(value, unit)),
            "Check the reading and its sign.");
    return *this;
}

Inputs& Inputs::within(std::string_view name, double value, double low, double high,
                       std::string_view unit) {
    finite(name, value);
    if (!(value >= low && value <= high))
        complain(fmt::format("The {} is {}, outside {} to {}.", name, with_unit(value, unit),
                             with_unit(low, unit), with_unit(high, unit)),
                 "Check the reading and its unit; outside this range the equation is not valid.");
    return *this;
}

Inputs& Inputs::holds(bool condition, std::string_view what, std::string_view what_to_do) {
    if (!condition) complain(std::string{what}, std::string{what_to_do});
    return *this;
}

void Inputs::complain(std::string what, std::string what_to_do) {
    if (complaint_) return;
    complaint_ = Problem{std::move(what), std::string{equation_}, std::move(what_to_do),
                         ProblemKind::Unreadable};
}

}  // namespace wm::plant
