// The derived values bound to their equations, in three tables, and what the tables need.
#pragma once

#include <optional>
#include <vector>

#include "checklist/conventions.hpp"
#include "checklist/derived_names.hpp"
#include "plant/derived.hpp"

namespace wm::checklist {

/// Place, weight, wind and anchoring.
[[nodiscard]] std::vector<DerivedSpec> derived_of_place();
/// Water, antifreeze, pressures and warmth.
[[nodiscard]] std::vector<DerivedSpec> derived_of_water();
/// Highest temperatures, what they ask of vessel and relief, and electricity.
[[nodiscard]] std::vector<DerivedSpec> derived_of_heat();

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

[[nodiscard]] inline const plant::Conventions& by(Ingredients& in) {
    return in.conventions();
}
[[nodiscard]] inline bool is_direct(Ingredients& in) {
    return in.word("sys.kind") == "direct";
}
/// A direct set has no jacket.
[[nodiscard]] inline double jacket_m3(Ingredients& in) {
    return is_direct(in) ? 0.0 : in.si("sys.jacket_l");
}

[[nodiscard]] inline units::GaugePressure gauge(double pascals) {
    return units::GaugePressure::pascals(pascals);
}
[[nodiscard]] inline std::optional<units::GaugePressure> gauge(std::optional<double> pascals) {
    return pascals ? std::optional{gauge(*pascals)} : std::nullopt;
}
/// A heater without pressure, or in a zone of its own, neither helps nor limits.
[[nodiscard]] inline bool heater_in_zone(Ingredients& in) {
    const auto most = in.si_if_known("heater.max_kpa");
    if (most && *most == 0.0) return false;
    return in.word_if_known("heater.same_zone") != "no";
}
/// In Pa; none where the heater has no relief or is not in the zone.
[[nodiscard]] inline std::optional<double> heater_relief(Ingredients& in) {
    if (!heater_in_zone(in) || in.word_if_known("heater.relief") == "none") return std::nullopt;
    return in.si("heater.relief_kpa");
}

}  // namespace wm::checklist
