// Bolts of metric coarse steel thread: what a torque does to them.
#pragma once

#include <optional>

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

struct Thread {
    units::Length diameter;
    units::Length pitch;
};

/// Area of the circle between flank and core diameter. Source: ISO 898-1:2013 clause 9.
[[nodiscard]] Result<units::Area> stress_area(const Thread& thread);

struct TightenedBolt {
    Thread thread;
    units::Torque torque;
    double k = 0.20;  ///< 0.20 dry zinc, 0.16 oiled, 0.15 to 0.30 stainless (common practice)
    std::optional<units::PressureDifference> yield;  ///< 0.2 % proof strength of the bolt
};

struct Preload {
    units::Force force;
    std::optional<double> utilisation;  ///< of the yield, where it is known; above 1 it stretches
};

/// Torque over k times diameter. Source: the short form of Motosh, e.g. Shigley (from memory).
/// Traps: k scatters by 30 %, so report a range; stainless galls unless greased; into timber or
/// tile the base is the limit, not the bolt.
[[nodiscard]] Result<Preload> bolt_preload(const TightenedBolt& bolt);

/// The friction under the head, needed only for the torque.
struct HeadFriction {
    units::Length bearing_diameter;  ///< mean, of the head; washers change it
    double coefficient;
};

struct AssembledBolt {
    Thread thread;
    units::PressureDifference yield;
    double thread_friction;
    std::optional<HeadFriction> head;
};

struct Assembly {
    units::Force preload;  ///< at 90 % of the yield
    std::optional<units::Torque> torque;
};

/// Preload that with the twist of the thread comes to 90 % of yield, and its torque.
/// Source: VDI 2230-1:2003/2015, Table A1 and its equations (from memory).
[[nodiscard]] Result<Assembly> bolt_assembly(const AssembledBolt& bolt);

}  // namespace wm::plant
