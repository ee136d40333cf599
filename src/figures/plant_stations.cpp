#include "figures/plant_stations.hpp"

#include <utility>

namespace wm::figures {

namespace {

using Placing = std::pair<std::string_view, Station>;

constexpr Placing placings[] = {
    // commissioning
    {"site-weather", Station::Sky},
    {"sun-window", Station::Sky},
    {"crew-licences", Station::People},
    {"fall-protection", Station::Roof},
    {"ladder-set", Station::Roof},
    {"power-locked", Station::Heater},
    {"water-off", Station::Feed},
    {"collector-covered", Station::Collector},
    {"goods-scan", Station::People},
    {"instruments-due", Station::People},
    {"roof-as-surveyed", Station::Roof},
    {"members-found", Station::Roof},
    {"hook-gap", Station::Roof},
    {"ballast-mass", Station::Roof},
    {"hole-flashed", Station::Roof},
    {"metal-pairs", Station::Roof},
    {"anchor-torque", Station::Store},
    {"anchor-pull", Station::Store},
    {"tank-level", Station::Store},
    {"tank-ports", Station::Store},
    {"coll-clamps", Station::Collector},
    {"coll-tilt", Station::Collector},
    {"coll-azimuth", Station::Collector},
    {"coll-cross-rise", Station::Collector},
    {"tank-over-coll", Station::Store},
    {"nut-marks", Station::Collector},
    {"loop-rise", Station::Loop},
    {"loop-joints", Station::Loop},
    {"valve-order", Station::Feed},
    {"relief-unblocked", Station::Relief},
    {"relief-rating", Station::Relief},
    {"relief-capacity", Station::Relief},
    {"tp-relief", Station::Relief},
    {"discharge-pipe", Station::Relief},
    {"vacuum-break", Station::Store},
    {"non-return", Station::Feed},
    {"pressure-limit-set", Station::Feed},
    {"expansion-room", Station::Feed},
    {"drain-low", Station::Feed},
    {"tempering-fitted", Station::Taps},
    {"hot-pipe-material", Station::Taps},
    {"flush-fill", Station::Filling},
    {"fill-order", Station::Loop},
    {"air-purged", Station::Filling},
    {"relief-lever", Station::Relief},
    {"test-pressure", Station::Filling},
    {"test-hold", Station::Filling},
    {"joints-dry", Station::Filling},
    {"fluid-id", Station::Loop},
    {"loop-volume", Station::Loop},
    {"loop-freeze-point", Station::Loop},
    {"jacket-relief", Station::Loop},
    {"jacket-cushion", Station::Loop},
    {"loop-test-pressure", Station::Loop},
    {"loop-test-hold", Station::Loop},
    {"heater-filled", Station::Heater},
    {"earth-continuity", Station::Heater},
    {"insulation-res", Station::Heater},
    {"element-res", Station::Heater},
    {"rcd-trip", Station::Heater},
    {"rcd-trip-5", Station::Heater},
    {"earth-loop", Station::Heater},
    {"cutout-works", Station::Heater},
    {"bonding-pipes", Station::Heater},
    {"thermostat-60", Station::Heater},
    {"controller-program", Station::Controller},
    {"sensor-agree", Station::Controller},
    {"outlet-temp", Station::Taps},
    {"cold-failure", Station::Taps},
    {"tap-retest", Station::Taps},
    {"ins-wall", Station::Lagging},
    {"ins-ends", Station::Lagging},
    {"ins-uv", Station::Lagging},
    {"frost-cold-feed", Station::Feed},
    {"temp-rise", Station::Loop},
    {"store-gain", Station::Store},
    {"day-after", Station::Store},
    {"warm-leaks", Station::Filling},
    {"roof-hose", Station::Roof},
    {"covering-back", Station::Roof},
    {"roof-clear", Station::Roof},
    {"cover-off", Station::Collector},
    // survey
    {"access-safe", Station::Roof},
    {"asbestos-suspect", Station::Roof},
    {"tank-size-fit", Station::Store},
    {"sun-azimuth", Station::Sky},
    {"sun-pitch", Station::Collector},
    {"sun-shade", Station::Sky},
    {"roof-free-area", Station::Collector},
    {"roof-covering-fit", Station::Roof},
    {"roof-soundness", Station::Roof},
    {"roof-members", Station::Roof},
    {"roof-load", Station::Store},
    {"wind-exposure", Station::Sky},
    {"load-down", Station::Store},
    {"wind-tipping", Station::Store},
    {"frost-fit", Station::Loop},
    {"water-supply", Station::Feed},
    {"water-quality", Station::Feed},
    {"heater-fit", Station::Heater},
    {"heater-inlet-limit", Station::Heater},
    {"heater-relief", Station::Heater},
    {"heater-vented", Station::Heater},
    {"elec-ready", Station::Heater},
    {"pipe-route", Station::Loop},
    {"discharge-route", Station::Relief},
    {"lift-plan", Station::Store},
    // kit
    {"kit-match", Station::Store},
    {"kit-fixings", Station::Roof},
    {"kit-pipe", Station::Loop},
    {"kit-clips", Station::Loop},
    {"kit-insulation", Station::Lagging},
    {"kit-uv-cover", Station::Lagging},
    {"kit-relief", Station::Relief},
    {"kit-valves", Station::Feed},
    {"kit-fluid", Station::Loop},
    {"kit-flashing", Station::Roof},
    {"kit-electrical", Station::Heater},
    // service
    {"svc-anchors", Station::Store},
    {"svc-roof", Station::Roof},
    {"svc-glass-shade", Station::Collector},
    {"svc-leaks", Station::Filling},
    {"svc-insulation", Station::Lagging},
    {"svc-relief-lever", Station::Relief},
    {"svc-pressure", Station::Feed},
    {"svc-freeze-point", Station::Loop},
    {"svc-fluid-ph", Station::Loop},
    {"svc-anode", Station::Store},
    {"svc-electric", Station::Heater},
    {"svc-thermostat", Station::Heater},
    {"svc-outlet-temp", Station::Taps},
    {"svc-night-loss", Station::Store},
    {"svc-temp-rise", Station::Loop},
};

}  // namespace

std::string_view name_of(Station station) {
    switch (station) {
        case Station::Sky:
            return "sun and weather";
        case Station::People:
            return "people and papers";
        case Station::Roof:
            return "roof";
        case Station::Collector:
            return "collector";
        case Station::Store:
            return "store";
        case Station::Relief:
            return "relief valve";
        case Station::Loop:
            return "collector loop";
        case Station::Feed:
            return "cold water feed";
        case Station::Filling:
            return "filling and test";
        case Station::Heater:
            return "electric heater";
        case Station::Controller:
            return "controller";
        case Station::Taps:
            return "hot taps";
        case Station::Lagging:
            return "insulation";
    }
    return "";
}

Station station_of(std::string_view check) {
    for (const auto& [id, station] : placings) {
        if (id == check) return station;
    }
    return Station::People;
}

drawing::Box rack_of(Station station) {
    switch (station) {
        case Station::Sky:
            return {22, 5, 26, 8};
        case Station::People:
            return {18, 107, 62, 13};
        case Station::Roof:
            return {48, 86, 30, 13};
        case Station::Collector:
            return {3, 57, 28, 12};
        case Station::Store:
            return {98, 20, 30, 12};
        case Station::Relief:
            return {138, 14, 36, 8};
        case Station::Loop:
            return {3, 23, 38, 12};
        case Station::Feed:
            return {89, 86, 20, 19};
        case Station::Filling:
            return {98, 62, 28, 8};
        case Station::Heater:
            return {112, 86, 16, 23};
        case Station::Controller:
            return {152, 66, 20, 5};
        case Station::Taps:
            return {160, 92, 22, 6};
        case Station::Lagging:
            return {98, 39, 26, 5};
    }
    return {};
}

}  // namespace wm::figures
