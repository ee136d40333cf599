// Which check has which sketch, and what each says in words.
#include "figures/sketch.hpp"

#include <array>
#include <utility>

#include "figures/sketch_pen.hpp"

namespace wm::figures {
namespace {

constexpr std::array sketches{
    std::pair<std::string_view, Sketch>{"anchor-torque", Sketch::Torque},
    std::pair<std::string_view, Sketch>{"coll-clamps", Sketch::Torque},
    std::pair<std::string_view, Sketch>{"svc-anchors", Sketch::Torque},
    std::pair<std::string_view, Sketch>{"nut-marks", Sketch::Torque},
    std::pair<std::string_view, Sketch>{"coll-tilt", Sketch::Tilt},
    std::pair<std::string_view, Sketch>{"sun-pitch", Sketch::Tilt},
    std::pair<std::string_view, Sketch>{"coll-azimuth", Sketch::ShadowAzimuth},
    std::pair<std::string_view, Sketch>{"sun-azimuth", Sketch::ShadowAzimuth},
    std::pair<std::string_view, Sketch>{"loop-rise", Sketch::LoopSlope},
    std::pair<std::string_view, Sketch>{"coll-cross-rise", Sketch::LoopSlope},
    std::pair<std::string_view, Sketch>{"loop-freeze-point", Sketch::Refractometer},
    std::pair<std::string_view, Sketch>{"svc-freeze-point", Sketch::Refractometer},
    std::pair<std::string_view, Sketch>{"discharge-pipe", Sketch::DischargePipe},
    std::pair<std::string_view, Sketch>{"svc-relief", Sketch::DischargePipe},
    std::pair<std::string_view, Sketch>{"ins-ends", Sketch::InsulationEnds},
    std::pair<std::string_view, Sketch>{"ins-uv", Sketch::InsulationEnds},
    std::pair<std::string_view, Sketch>{"ins-wall", Sketch::InsulationEnds},
    std::pair<std::string_view, Sketch>{"ladder-set", Sketch::Ladder},
    std::pair<std::string_view, Sketch>{"temp-rise", Sketch::PipeSensor},
    std::pair<std::string_view, Sketch>{"svc-temp-rise", Sketch::PipeSensor},
    std::pair<std::string_view, Sketch>{"test-hold", Sketch::HoldingTest},
    std::pair<std::string_view, Sketch>{"test-pressure", Sketch::HoldingTest},
    std::pair<std::string_view, Sketch>{"loop-test-hold", Sketch::HoldingTest},
    std::pair<std::string_view, Sketch>{"loop-test-pressure", Sketch::HoldingTest},
    std::pair<std::string_view, Sketch>{"outlet-temp", Sketch::TapTemperature},
    std::pair<std::string_view, Sketch>{"tap-retest", Sketch::TapTemperature},
    std::pair<std::string_view, Sketch>{"svc-outlet-temp", Sketch::TapTemperature},
    std::pair<std::string_view, Sketch>{"thermostat-60", Sketch::TapTemperature},
};

}  // namespace

std::optional<Sketch> sketch_of(std::string_view check) {
    for (const auto& [id, sketch] : sketches)
        if (id == check) return sketch;
    return std::nullopt;
}

std::string_view words_of(Sketch sketch) {
    switch (sketch) {
        case Sketch::Torque: return "The wrench stands square to the bolt; pull at the grip and stop at the click; mark the nut.";
        case Sketch::Tilt: return "The inclinometer lies on the frame, along the fall of the collector.";
        case Sketch::ShadowAzimuth:
            return "At solar noon the shadow of a plumb line is the true north-south line; the bearing is read from it.";
        case Sketch::LoopSlope: return "The loop pipes rise all the way to the store; a dip holds air and stops the flow.";
        case Sketch::Refractometer: return "A drop on the clean prism; the edge of the shade shows the freezing point.";
        case Sketch::DischargePipe: return "The discharge pipe is as wide as the outlet, falls all the way, and ends open where it is seen.";
        case Sketch::InsulationEnds: return "The insulation reaches up to the fitting, and a cover against sun lies over it.";
        case Sketch::Ladder: return "The ladder stands at 65 to 75 degrees, tied, a metre over the eaves.";
        case Sketch::PipeSensor: return "The sensor lies flat on bare pipe, is strapped on and wrapped against the air.";
        case Sketch::HoldingTest: return "Air is out, the pump is shut off, the gauge is read square from the front.";
        case Sketch::TapTemperature: return "The thermometer stays in the stream until the figure stands still; no hand goes into the water.";
    }
    return {};
}

void draw_sketch(drawing::Canvas& on, drawing::Box into, Sketch sketch) {
    SketchPen pen{on, into};
    switch (sketch) {
        case Sketch::Torque: return sketch_torque(pen);
        case Sketch::Tilt: return sketch_tilt(pen);
        case Sketch::ShadowAzimuth: return sketch_shadow_azimuth(pen);
        case Sketch::LoopSlope: return sketch_loop_slope(pen);
        case Sketch::Refractometer: return sketch_refractometer(pen);
        case Sketch::DischargePipe: return sketch_discharge_pipe(pen);
        case Sketch::InsulationEnds: return sketch_insulation_ends(pen);
        case Sketch::Ladder: return sketch_ladder(pen);
        case Sketch::PipeSensor: return sketch_pipe_sensor(pen);
        case Sketch::HoldingTest: return sketch_holding_test(pen);
        case Sketch::TapTemperature: return sketch_tap_temperature(pen);
    }
}

}  // namespace wm::figures
