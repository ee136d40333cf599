// The derived values bound to their equations, in two tables, and what both tables need.
#pragma once

#include <vector>

#include "checklist/conventions.hpp"
#include "checklist/derived_names.hpp"
#include "plant/derived.hpp"

namespace wm::checklist {

/// Place, weight, wind and anchoring.
[[nodiscard]] std::vector<DerivedSpec> derived_of_place();
/// Water, antifreeze, pressures, warmth and electricity.
[[nodiscard]] std::vector<DerivedSpec> derived_of_water();

/// The SI value of an equation's result, or its problem.
template <class T>
[[nodiscard]] Result<double> si_of(const Result<T>& result) {
    if (!result) return tl::unexpected(result.error());
    return result->si();
}
[[nodiscard]] inline Result<double> si_of(const Result<units::Angle>& angle) {
    if (!angle) return tl::unexpected(angle.error());
    return angle->in_radians();
}
[[nodiscard]] inline Result<double> si_of(const Result<units::Temperature>& temperature) {
    if (!temperature) return tl::unexpected(temperature.error());
    return temperature->in_kelvin();
}
[[nodiscard]] inline Result<double> si_of(const Result<units::GaugePressure>& pressure) {
    if (!pressure) return tl::unexpected(pressure.error());
    return pressure->in_pascals();
}

[[nodiscard]] inline plant::Conventions by(Ingredients& in) {
    return conventions_of(in.library());
}
[[nodiscard]] inline bool is_direct(Ingredients& in) {
    return in.word("sys.kind") == "direct";
}
/// A direct set has no jacket.
[[nodiscard]] inline double jacket_m3(Ingredients& in) {
    return is_direct(in) ? 0.0 : in.si("sys.jacket_l");
}

}  // namespace wm::checklist
