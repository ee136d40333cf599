// Refusing, in words, what an equation was not made for.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::plant {

/// Collects the first complaint about the inputs of one equation. NaN and infinity are refused
/// everywhere. Used as
///     if (auto wrong = Inputs{"expansion volume"}.positive("volume", v, "L").complaint())
///         return refused(*wrong);
class Inputs {
public:
    explicit Inputs(std::string_view equation) : equation_{equation} {}

    Inputs& finite(std::string_view name, double value);
    Inputs& positive(std::string_view name, double value, std::string_view unit);
    Inputs& not_negative(std::string_view name, double value, std::string_view unit);
    Inputs& within(std::string_view name, double value, double low, double high,
                   std::string_view unit);
    /// A condition between inputs; `what` and `what_to_do` are whole sentences.
    Inputs& holds(bool condition, std::string_view what, std::string_view what_to_do);

    [[nodiscard]] const std::optional<Problem>& complaint() const { return complaint_; }

private:
    void complain(std::string what, std::string what_to_do);

    std::string_view equation_;
    std::optional<Problem> complaint_;
};

}  // namespace wm::plant
