#include "plant/fasteners.hpp"

#include <cmath>
#include <numbers>

#include "plant/inputs.hpp"

namespace wm::plant {

namespace {

// Flank and core diameter of ISO 724, in metre.
double flank_m(const Thread& t) {
    return t.diameter.si() - 0.649519 * t.pitch.si();
}
double core_m(const Thread& t) {
    return t.diameter.si() - 1.226869 * t.pitch.si();
}
double stress_diameter_m(const Thread& t) {
    return (flank_m(t) + core_m(t)) / 2.0;
}
double stress_area_m2(const Thread& t) {
    const double d = stress_diameter_m(t);
    return std::numbers::pi / 4.0 * d * d;
}

Inputs thread_inputs(std::string_view equation, const Thread& thread) {
    Inputs inputs{equation};
    inputs.positive("diameter", thread.diameter.si() * 1e3, "mm")
        .within("diameter", thread.diameter.si() * 1e3, 1.0, 100.0, "mm")
        .positive("pitch", thread.pitch.si() * 1e3, "mm")
        .holds(thread.pitch.si() < thread.diameter.si() / 3.0,
               "The pitch is too coarse for this diameter.",
               "Give the pitch of the thread in millimetres, 1.25 mm for M8.");
    return inputs;
}

}  // namespace

Result<units::Area> stress_area(const Thread& thread) {
    const auto inputs = thread_inputs("stress area", thread);
    if (inputs.complaint()) return refused(*inputs.complaint());
    return units::square_metres(stress_area_m2(thread));
}

Result<Preload> bolt_preload(const TightenedBolt& bolt) {
    auto inputs = thread_inputs("preload of a bolt", bolt.thread);
    inputs.not_negative("torque", bolt.torque.si(), "N·m")
        .within("factor of friction", bolt.k, 0.05, 0.6, "");
    if (bolt.yield) inputs.positive("yield", bolt.yield->si() / 1e6, "MPa");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double force = bolt.torque.si() / (bolt.k * bolt.thread.diameter.si());
    std::optional<double> utilisation;
    if (bolt.yield) utilisation = force / (stress_area_m2(bolt.thread) * bolt.yield->si());
    return Preload{.force = units::newtons(force), .utilisation = utilisation};
}

Result<Assembly> bolt_assembly(const AssembledBolt& bolt) {
    constexpr double share_of_yield = 0.9;
    auto inputs = thread_inputs("torque of a bolt", bolt.thread);
    inputs.positive("yield", bolt.yield.si() / 1e6, "MPa")
        .within("friction of the thread", bolt.thread_friction, 0.01, 1.0, "");
    if (bolt.head)
        inputs.within("friction under the head", bolt.head->coefficient, 0.01, 1.0, "")
            .positive("bearing diameter of the head", bolt.head->bearing_diameter.si() * 1e3, "mm");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double flank = flank_m(bolt.thread);
    const double pitch = bolt.thread.pitch.si();
    const double mu = bolt.thread_friction;
    const double twist = 1.5 * flank / stress_diameter_m(bolt.thread) *
                         (pitch / (std::numbers::pi * flank) + 1.155 * mu);
    const double force = stress_area_m2(bolt.thread) * share_of_yield * bolt.yield.si() /
                         std::sqrt(1.0 + 3.0 * twist * twist);
    std::optional<units::Torque> torque;
    if (bolt.head)
        torque = units::newton_metres(
            force * (0.16 * pitch + 0.58 * flank * mu +
                     bolt.head->bearing_diameter.si() / 2.0 * bolt.head->coefficient));
    return Assembly{.preload = units::newtons(force), .torque = torque};
}

}  // namespace wm::plant
