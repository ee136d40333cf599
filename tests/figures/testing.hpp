// Builders for the tests of figures.
#pragma once

#include <string>

#include "figures/plant_figure.hpp"

namespace wm::figures::testing {

/// All 88 checks of a commissioning with their numbers, all with the same outcome.
inline PlantInput whole_plant(measure::Outcome outcome) {
    static constexpr const char* ids[] = {
        "site-weather",      "crew-licences",    "fall-protection",    "ladder-set",
        "power-locked",      "water-off",        "collector-covered",  "goods-scan",
        "instruments-due",   "roof-as-surveyed", "members-found",      "hook-gap",
        "ballast-mass",      "hole-flashed",     "metal-pairs",        "anchor-torque",
        "anchor-pull",       "tank-level",       "tank-ports",         "coll-clamps",
        "coll-tilt",         "coll-azimuth",     "coll-cross-rise",    "tank-over-coll",
        "nut-marks",         "loop-rise",        "loop-joints",        "valve-order",
        "relief-unblocked",  "relief-rating",    "tp-relief",          "discharge-pipe",
        "vacuum-break",      "non-return",       "pressure-limit-set", "expansion-room",
        "drain-low",         "tempering-fitted", "hot-pipe-material",  "flush-fill",
        "fill-order",        "air-purged",       "relief-lever",       "test-pressure",
        "test-hold",         "joints-dry",       "fluid-id",           "loop-volume",
        "loop-freeze-point", "jacket-relief",    "jacket-cushion",     "heater-filled",
        "earth-continuity",  "insulation-res",   "element-res",        "rcd-trip",
        "bonding-pipes",     "thermostat-60",    "controller-program", "sensor-agree",
        "outlet-temp",       "ins-wall",         "ins-ends",           "ins-uv",
        "frost-cold-feed",   "sun-window",       "temp-rise",          "day-after",
        "warm-leaks",        "roof-hose",        "covering-back",      "roof-clear",
        "cover-off",         "customer-shown",   "labels-fixed",       "open-items",
        "sign-crew",         "sign-customer",    "rescue-plan",        "clock-checked",
        "relief-capacity",   "loop-test-pressure", "loop-test-hold",   "earth-loop",
        "rcd-trip-5",        "cutout-works",     "cold-failure",       "tap-retest"};
    PlantInput input;
    int number = 0;
    for (const char* id : ids) {
        input.pins.push_back({id, outcome, std::to_string(++number), false});
    }
    return input;
}

}  // namespace wm::figures::testing
