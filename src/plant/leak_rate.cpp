#include "plant/leak_rate.hpp"

#include "plant/inputs.hpp"

namespace wm::plant {

namespace {
Inputs drop_inputs(const Drop& drop) {
    Inputs inputs{"leak rate"};
    inputs.positive("volume", drop.volume.si(), "m³")
        .finite("slope of the pressure", drop.slope.si());
    return inputs;
}
}  // namespace

Result<units::VolumeFlow> liquid_leak(const Drop& drop, units::Compressibility yielding) {
    auto inputs = drop_inputs(drop);
    inputs.positive("sum of the compressibilities", yielding.si(), "1/Pa");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return units::VolumeFlow::from_si(-drop.volume.si() * yielding.si() * drop.slope.si());
}

Result<GasLeak> gas_leak(const Drop& drop) {
    constexpr double normal_pa = 101325.0;
    const auto inputs = drop_inputs(drop);
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double throughput = -drop.volume.si() * drop.slope.si();
    return GasLeak{.throughput = Throughput::from_si(throughput),
                   .normal_flow = units::VolumeFlow::from_si(throughput / normal_pa)};
}

}  // namespace wm::plant
