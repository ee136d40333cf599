#include "plant/collector.hpp"

#include <cmath>

#include "plant/inputs.hpp"

namespace wm::plant {

namespace {
Inputs curve_inputs(std::string_view equation, const CollectorCurve& curve) {
    Inputs inputs{equation};
    inputs.within("optical efficiency", curve.optical, 0.0, 1.0, "")
        .within("loss coefficient", curve.loss.si(), 0.0, 100.0, "W/(m² K)")
        .within("quadratic loss coefficient", curve.quadratic_loss.si(), 0.0, 10.0, "W/(m² K²)");
    return inputs;
}
}  // namespace

Result<double> collector_efficiency(const CollectorCurve& curve, const CollectorState& state) {
    auto inputs = curve_inputs("collector efficiency", curve);
    inputs.positive("sun", state.sun.si(), "W/m²")
        .within("sun", state.sun.si(), 0.0, 2000.0, "W/m²")
        .within("mean fluid temperature", state.mean_fluid.in_celsius(), -60.0, 400.0, "°C")
        .within("air temperature", state.air.in_celsius(), -60.0, 70.0, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double y = (state.mean_fluid - state.air).si();
    const double sun = state.sun.si();
    return curve.optical - curve.loss.si() * y / sun - curve.quadratic_loss.si() * y * y / sun;
}

Result<double> incidence_modifier(double share, units::Angle incidence) {
    Inputs inputs{"incidence modifier"};
    inputs.within("share lost", share, 0.0, 1.0, "")
        .within("angle of incidence", incidence.in_degrees(), 0.0, 60.0, "°");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return 1.0 - share * (1.0 / std::cos(incidence.in_radians()) - 1.0);
}

Result<units::Temperature> stagnation_temperature(const CollectorCurve& curve,
                                                  units::Irradiance sun, units::Temperature air) {
    auto inputs = curve_inputs("stagnation temperature", curve);
    inputs.within("sun", sun.si(), 0.0, 2000.0, "W/m²")
        .within("air temperature", air.in_celsius(), -60.0, 70.0, "°C")
        .holds(curve.loss.si() > 0.0 || curve.quadratic_loss.si() > 0.0,
               "A collector without any loss has no stagnation temperature.",
               "Give at least one loss coefficient.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double gain = curve.optical * sun.si();
    if (gain == 0.0) return air;
    const double a1 = curve.loss.si();
    // This form of the root keeps its digits for a small quadratic loss, and serves zero too.
    const double rise =
        2.0 * gain / (a1 + std::sqrt(a1 * a1 + 4.0 * curve.quadratic_loss.si() * gain));
    return air + units::kelvins(rise);
}

}  // namespace wm::plant
