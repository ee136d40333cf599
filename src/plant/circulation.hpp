// Natural circulation: the head that drives the loop, the friction that brakes it, and the flow
// where both balance.
#pragma once

#include <optional>

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

using FlowResistance = units::Quantity<-1, 0, -1>;  ///< Pa s/kg

struct TwoLegs {
    units::Temperature cold;
    units::Temperature hot;
    units::Length
        height;  ///< between the thermal centres: mid-height of tank over that of collector
};

/// Gravity times height times the difference of density; negative when the hot leg is denser.
/// 0 °C to 200 °C, height −50 m to 50 m. Source: hydrostatics; Close 1962, Solar Energy 6:33-40
/// (from memory). Trap: tens of pascals only, one trapped bubble or a pipe that rises and falls
/// stops it.
[[nodiscard]] Result<units::PressureDifference> thermosiphon_head(const TwoLegs& legs);

/// Darcy's factor (four times Fanning's), roughness over bore 0 to 0.05. Laminar to Re 2300, by
/// Colebrook 1939 from Re 4000 to 10⁸, straight in Re between (our convention).
[[nodiscard]] Result<double> friction_factor(double reynolds, double relative_roughness);

/// The explicit form that starts the iteration. Re from 4000. Source: Haaland 1983.
[[nodiscard]] Result<double> explicit_friction_factor(double reynolds, double relative_roughness);

struct PipeRun {
    units::Length bore;
    units::Length length;
    double fittings = 0.0;  ///< sum of the loss factors; tables are turbulent, up to 5 times too
                            ///< small for laminar flow
    units::Length roughness = units::Length::from_si(1.5e-6);  ///< drawn copper, Moody 1944
};

struct PipeFlow {
    units::Speed speed;
    double reynolds;
    double friction_factor;
    units::PressureDifference loss;
};

/// Darcy and Weisbach, water at the temperature of this leg. Flow above 0, 0 °C to 110 °C.
[[nodiscard]] Result<PipeFlow> pipe_friction(const PipeRun& pipe, units::MassFlow flow,
                                             units::Temperature water);

struct Loop {
    TwoLegs legs;
    PipeRun pipe;
    FlowResistance collector;  ///< linear
    /// Inhibited propylene glycol by volume, 10 to 60 %, legs 0 °C to 100 °C; water if there is none.
    std::optional<double> glycol_percent = std::nullopt;
};

struct LoopFlow {
    units::PressureDifference head;
    units::MassFlow flow;
    units::Power heat;
};

/// The flow at which head equals friction, half the pipe and fittings at each leg's temperature,
/// found by halving 10⁻⁷ to 5 kg/s. Refused when nothing drives the loop. Antifreeze by
/// `glycol_mixture`.
/// Trap: temperatures and heat must fit the collector; as a prediction, iterate the hot one.
[[nodiscard]] Result<LoopFlow> thermosiphon_flow(const Loop& loop);

}  // namespace wm::plant
