#include "plant/air_test.hpp"

#include "plant/inputs.hpp"

namespace wm::plant {

Result<units::GaugePressure> expected_gas_pressure(const SealedGas& gas) {
    const auto start = gas.start.against_vacuum(gas.air_at_start);
    Inputs inputs{"air test"};
    inputs.within("temperature at the start", gas.at_start.in_celsius(), 0.0, 60.0, "°C")
        .within("temperature at the end", gas.at_end.in_celsius(), 0.0, 60.0, "°C")
        .within("barometer at the start", gas.air_at_start.in_kilopascals(), 30.0, 110.0, "kPa")
        .within("barometer at the end", gas.air_at_end.in_kilopascals(), 30.0, 110.0, "kPa")
        .within("pressure against vacuum", start.in_kilopascals(), 0.0, 1000.0, "kPa");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double warming = gas.at_end.in_kelvin() / gas.at_start.in_kelvin();
    const auto end = units::AbsolutePressure::pascals(start.in_pascals() * warming);
    return units::GaugePressure::pascals((end - gas.air_at_end).si());
}

Result<units::PressureDifference> unexplained_loss(const SealedGas& gas,
                                                   units::GaugePressure read_at_end) {
    Inputs inputs{"air test"};
    inputs.finite("reading at the end", read_at_end.in_pascals())
        .within("reading at the end against vacuum",
                read_at_end.against_vacuum(gas.air_at_end).in_kilopascals(), 0.0, 1000.0, "kPa");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return expected_gas_pressure(gas).map(
        [&](units::GaugePressure expected) { return expected - read_at_end; });
}

}  // namespace wm::plant
