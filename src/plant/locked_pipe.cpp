#include "plant/locked_pipe.hpp"

#include <cmath>

#include "plant/inputs.hpp"
#include "plant/water.hpp"

namespace wm::plant {

Result<units::Compressibility> tube_compliance(const Tube& tube, const TubeMaterial& material) {
    const auto bore = tube_bore(tube);
    if (!bore) return tl::unexpected(bore.error());
    Inputs inputs{"compliance of the tube"};
    inputs.positive("elasticity", material.elasticity.si() / 1e9, "GPa")
        .within("Poisson's ratio", material.poisson, 0.0, 0.5, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double stiffness = material.elasticity.si() * tube.wall.si();
    return units::Compressibility::from_si(bore->si() / stiffness * (1.25 - material.poisson));
}

Result<PressurePerKelvin> pressure_per_kelvin(const ShutPipe& pipe) {
    const auto compliance = tube_compliance(pipe.tube, pipe.material);
    if (!compliance) return tl::unexpected(compliance.error());
    const auto water = water_properties(pipe.water, pipe.pressure);
    if (!water) return tl::unexpected(water.error());
    const double phi = pipe.gas_fraction;
    const double alpha = pipe.material.linear_expansion.si();
    Inputs inputs{"pressure of a shut pipe"};
    inputs.within("fraction of gas", phi, 0.0, 0.999, "")
        .not_negative("expansion of the tube", alpha, "1/K");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double growth =
        (1.0 - phi) * water->expansivity.si() + phi / pipe.water.in_kelvin() - 3.0 * alpha;
    const double yielding = (1.0 - phi) * water->compressibility.si() +
                            phi / pipe.pressure.in_pascals() + compliance->si();
    return PressurePerKelvin::from_si(growth / yielding);
}

Result<units::AbsolutePressure> pressure_after(const ShutPipe& pipe, units::Temperature then) {
    const double change = (then - pipe.water).si();
    Inputs inputs{"pressure of a shut pipe"};
    inputs.within("change of temperature", change, -200.0, 200.0, "K");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto steps = static_cast<int>(std::ceil(std::abs(change))) + 1;
    const double step = change / steps;
    ShutPipe now = pipe;
    const double gas = pipe.gas_fraction * pipe.pressure.in_pascals() / pipe.water.in_kelvin();
    for (int i = 0; i < steps; ++i) {
        // Half a step first: the slope in the middle stands for the whole step.
        const auto slope = pressure_per_kelvin(now);
        if (!slope) return tl::unexpected(slope.error());
        ShutPipe middle = now;
        middle.water = now.water + units::kelvins(step / 2.0);
        middle.pressure =
            units::AbsolutePressure::pascals(now.pressure.in_pascals() + slope->si() * step / 2.0);
        middle.gas_fraction = gas * middle.water.in_kelvin() / middle.pressure.in_pascals();
        const auto mid_slope = pressure_per_kelvin(middle);
        if (!mid_slope) return tl::unexpected(mid_slope.error());
        now.water = now.water + units::kelvins(step);
        now.pressure =
            units::AbsolutePressure::pascals(now.pressure.in_pascals() + mid_slope->si() * step);
        now.gas_fraction = gas * now.water.in_kelvin() / now.pressure.in_pascals();
    }
    return now.pressure;
}

}  // namespace wm::plant
