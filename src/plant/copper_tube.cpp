#include "plant/copper_tube.hpp"

#include <array>
#include <numbers>

#include "plant/inputs.hpp"

namespace wm::plant {

using units::Length;
using units::millimetres;

namespace {
constexpr double copper_kg_m3 = 8940.0;

constexpr Tube tube(double outside_mm, double wall_mm) {
    return {millimetres(outside_mm), millimetres(wall_mm)};
}
}  // namespace

Result<Length> tube_bore(const Tube& tube) {
    const double outside = tube.outside.si();
    const double wall = tube.wall.si();
    Inputs inputs{"copper tube"};
    inputs.positive("outside diameter", outside * 1e3, "mm")
        .positive("wall", wall * 1e3, "mm")
        .holds(2.0 * wall < outside, "The wall is so thick that no bore is left.",
               "Give the outside diameter and one wall, both in the same unit.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return tube.outside - 2.0 * tube.wall;
}

Result<TubeDimensions> tube_dimensions(const Tube& tube) {
    const auto bore = tube_bore(tube);
    if (!bore) return tl::unexpected(bore.error());
    const double pi = std::numbers::pi;
    return TubeDimensions{
        .bore = *bore,
        .content = LinearContent::from_si(pi * bore->si() * bore->si() / 4.0),
        .mass = LinearMass::from_si(copper_kg_m3 * pi * (tube.outside - tube.wall).si() *
                                    tube.wall.si())};
}

std::span<const Tube> recommended_tubes() {
    static constexpr std::array tubes = {
        tube(12, 0.6), tube(12, 0.8), tube(12, 1.0), tube(15, 0.7), tube(15, 0.8), tube(15, 1.0),
        tube(18, 0.8), tube(18, 1.0), tube(22, 0.9), tube(22, 1.0), tube(22, 1.1), tube(22, 1.2),
        tube(22, 1.5), tube(28, 0.9), tube(28, 1.0), tube(28, 1.2), tube(28, 1.5), tube(35, 1.0),
        tube(35, 1.2), tube(35, 1.5), tube(42, 1.0), tube(42, 1.2), tube(42, 1.5), tube(54, 1.0),
        tube(54, 1.2), tube(54, 1.5), tube(54, 2.0)};
    return tubes;
}

}  // namespace wm::plant
