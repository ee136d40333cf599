#include "plant/insulation.hpp"

#include <cmath>
#include <numbers>

#include "plant/inputs.hpp"

namespace wm::plant {

Result<PipeLoss> pipe_heat_loss(const InsulatedPipe& pipe) {
    Inputs inputs{"heat loss of a pipe"};
    inputs.positive("outside diameter", pipe.outside.si() * 1e3, "mm")
        .not_negative("thickness of the insulation", pipe.insulation.si() * 1e3, "mm")
        .positive("conductivity", pipe.conductivity.si(), "W/(m K)")
        .positive("surface coefficient", pipe.surface.si(), "W/(m² K)")
        .within("fluid temperature", pipe.fluid.in_celsius(), -60.0, 400.0, "°C")
        .within("air temperature", pipe.air.in_celsius(), -60.0, 70.0, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double inner = pipe.outside.si() / 2.0;
    const double outer = inner + pipe.insulation.si();
    const double two_pi = 2.0 * std::numbers::pi;
    const double through = std::log(outer / inner) / (two_pi * pipe.conductivity.si());
    const double surface = 1.0 / (two_pi * outer * pipe.surface.si());
    const double loss = (pipe.fluid - pipe.air).si() / (through + surface);
    return PipeLoss{.loss = LinearLoss::from_si(loss),
                    .jacket = pipe.air + units::kelvins(loss * surface)};
}

Result<SurfaceCoefficient> outdoor_surface(units::Speed wind) {
    Inputs inputs{"surface coefficient outdoors"};
    inputs.within("wind", wind.si(), 0.0, 5.0, "m/s");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return SurfaceCoefficient::from_si(5.7 + 3.8 * wind.si());
}

Result<units::Conductance> standing_loss(units::Power over_24_hours) {
    constexpr double test_difference_k = 45.0;
    Inputs inputs{"standing loss"};
    inputs.positive("loss in 24 h", over_24_hours.si() * 0.024, "kWh");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return over_24_hours / units::kelvins(test_difference_k);
}

Result<units::Temperature> cooled_temperature(const Cooling& cooling, units::Time time) {
    Inputs inputs{"cooling of a store"};
    inputs.not_negative("loss", cooling.loss.si(), "W/K")
        .positive("heat capacity", cooling.capacity.si(), "J/K")
        .within("start temperature", cooling.start.in_celsius(), -60.0, 200.0, "°C")
        .within("air temperature", cooling.air.in_celsius(), -60.0, 70.0, "°C")
        .not_negative("time", time.si(), "s");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double left = std::exp(-cooling.loss.si() * time.si() / cooling.capacity.si());
    return cooling.air + (cooling.start - cooling.air) * left;
}

Result<units::Conductance> loss_from_cooling(const CoolDown& cooling) {
    const double first = (cooling.start - cooling.air).si();
    const double last = (cooling.end - cooling.air).si();
    Inputs inputs{"loss from a cool-down"};
    inputs.positive("heat capacity", cooling.capacity.si(), "J/K")
        .positive("time", cooling.time.si(), "s")
        .finite("start temperature", first)
        .finite("end temperature", last)
        .holds(first * last > 0.0 && std::abs(last) <= std::abs(first),
               "The store did not move towards the air.",
               "Check the three temperatures and their order.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return units::Conductance::from_si(cooling.capacity.si() / cooling.time.si() *
                                       std::log(first / last));
}

}  // namespace wm::plant
