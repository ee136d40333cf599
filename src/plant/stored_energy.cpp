#include "plant/stored_energy.hpp"

#include <cmath>

#include "plant/inputs.hpp"

namespace wm::plant {

Result<GasEnergy> gas_energy(units::Volume volume, units::GaugePressure pressure,
                             units::AbsolutePressure air) {
    constexpr double gamma = 1.4;
    constexpr double tnt_j_per_kg = 4.6e6;
    Inputs inputs{"energy of compressed gas"};
    inputs.positive("volume", volume.si(), "m³")
        .within("gauge pressure", pressure.in_kilopascals(), 0.0, 10000.0, "kPa")
        .within("air pressure", air.in_kilopascals(), 30.0, 110.0, "kPa");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double p = pressure.against_vacuum(air).in_pascals();
    const double v = volume.si();
    const double left = std::pow(air.in_pascals() / p, (gamma - 1.0) / gamma);
    const double isentropic = p * v / (gamma - 1.0) * (1.0 - left);
    return GasEnergy{.isentropic = units::Energy::from_si(isentropic),
                     .upper = units::Energy::from_si(pressure.in_pascals() * v / (gamma - 1.0)),
                     .tnt = units::kilograms(isentropic / tnt_j_per_kg)};
}

Result<units::Energy> water_energy(const WaterTest& test) {
    Inputs inputs{"energy of a water test"};
    inputs.positive("volume", test.volume.si(), "m³")
        .within("gauge pressure", test.pressure.in_kilopascals(), 0.0, 2000.0, "kPa")
        .positive("compressibility of water", test.water.si(), "1/Pa")
        .not_negative("compliance of the tube", test.tube.si(), "1/Pa");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double p = test.pressure.in_pascals();
    return units::Energy::from_si(0.5 * test.volume.si() * p * p * (test.water + test.tube).si());
}

}  // namespace wm::plant
