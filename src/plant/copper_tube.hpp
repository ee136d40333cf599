// Copper tube: bore, content and weight from the size printed on it.
#pragma once

#include <span>

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

using LinearContent = units::Area;             ///< m³ per metre of pipe
using LinearMass = units::Quantity<-1, 1, 0>;  ///< kg per metre of pipe

/// A tube by what is printed on it. The size is the OUTSIDE diameter, as in EN 1057; some regions
/// print the bore instead.
struct Tube {
    units::Length outside;
    units::Length wall;
};

struct TubeDimensions {
    units::Length bore;
    LinearContent content;
    LinearMass mass;
};

/// Bore is the outside diameter less two walls; content is the area of the bore; mass is that of
/// a copper ring of 8940 kg/m³. Refuses a wall that leaves no bore.
/// Source: EN 1057:2006+A1:2010, density of the same standard.
[[nodiscard]] Result<TubeDimensions> tube_dimensions(const Tube& tube);

/// Sizes recommended by EN 1057:2006+A1:2010 Table 3 (partly from memory). Soft coils and straight
/// lengths of one size differ in the pressure they take: that comes from the tube maker.
[[nodiscard]] std::span<const Tube> recommended_tubes();

/// The bore, for equations that need it only. Problem as tube_dimensions.
[[nodiscard]] Result<units::Length> tube_bore(const Tube& tube);

}  // namespace wm::plant
