// How a set stands on its roof: what its feet carry, and what the wind does to its store.
#include <algorithm>
#include <cmath>

#include "plant/derived.hpp"
#include "plant/inputs.hpp"

namespace wm::plant {

using units::Force;
using units::Mass;

namespace {

constexpr double gravity = 9.81;  // as the formulas of the checks print it
constexpr double most_metres = 10.0;

void take_base(Inputs& inputs, units::Length axis, units::Length base) {
    inputs.within("height of the axis of the store", axis.si(), 0.0, most_metres, "m")
        .positive("base of the store", base.si(), "m");
}

}  // namespace

Result<Force> point_load(const BearingLoad& load, const Conventions& by) {
    Inputs inputs{"load at a bearing point"};
    inputs.positive("mass of the set", load.set.si(), "kg")
        .not_negative("snow load", load.snow.si(), "Pa")
        .not_negative("wind pressure", load.wind.si(), "Pa")
        .positive("collector area", load.collector.si(), "m²")
        .within("number of bearing points", load.points, 1, 100, "")
        .positive("load factor", by.load_factor, "");
    if (load.store) {
        inputs.positive("mass of the full store", load.store->full.si(), "kg")
            .within("number of feet", load.store->feet, 1, 100, "")
            .within("uneven share of the feet", by.uneven_feet_factor, 1.0, 4.0, "");
    }
    if (inputs.complaint()) return refused(*inputs.complaint());
    const Force weight = units::newtons(load.set.si() * gravity);
    const Force pressing = by.wind_down_factor * load.wind * load.collector;
    const Force mean = (weight + load.snow * load.collector + pressing) / load.points;
    if (!load.store) return by.load_factor * mean;
    const Force foot = units::newtons(by.uneven_feet_factor * load.store->full.si() * gravity /
                                      load.store->feet);
    return by.load_factor * std::max(mean, foot);
}

Result<Force> store_drag(const StoreInWind& store, units::PressureDifference wind,
                         const Conventions& by) {
    Inputs inputs{"wind on the store"};
    inputs.positive("length of the store", store.length.si(), "m")
        .positive("diameter of the store", store.across.si(), "m")
        .not_negative("wind pressure", wind.si(), "Pa")
        .positive("drag factor", by.tank_drag, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return by.tank_drag * wind * (store.length * store.across);
}

Result<Force> tipping_pull(const Tipping& store, const Conventions& by) {
    Inputs inputs{"tipping of the store"};
    take_base(inputs, store.axis, store.base);
    inputs.not_negative("wind on the store", store.drag.si(), "N")
        .not_negative("mass of the empty store", store.empty.si(), "kg")
        .within("number of feet", store.feet, 2, 100, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double tips = by.uplift_factor * store.drag.si() * store.axis.si();
    const double holds =
        by.ballast_weight_factor * store.empty.si() * gravity * store.base.si() / 2.0;
    const int windward = store.feet / 2;
    return units::newtons(std::max(0.0, tips - holds) / store.base.si() / windward);
}

Result<Force> fixing_pull(const HardestFixing& pull, const Conventions& by) {
    Inputs inputs{"pull on a fixing"};
    inputs.not_negative("uplift", pull.uplift.si(), "N")
        .not_negative("pull of tipping", pull.tipping.si(), "N")
        .within("number of fixings", pull.fixings, 1, 1000, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return by.uplift_factor * pull.uplift / pull.fixings + pull.tipping;
}

Result<Mass> ballast_needed(const Ballasted& set, const Conventions& by) {
    Inputs inputs{"ballast"};
    inputs.not_negative("uplift", set.uplift.si(), "N")
        .not_negative("mass of the empty set", set.empty.si(), "kg")
        .within("tilt", set.tilt.in_degrees(), 0.0, 90.0, "°")
        .within("friction", by.friction, 0.01, 2.0, "")
        .within("share of dead weight that counts", by.ballast_weight_factor, 0.1, 1.0, "");
    if (set.store) {
        take_base(inputs, set.store->axis, set.store->base);
        inputs.not_negative("wind on the store", set.store->drag.si(), "N");
    }
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double tilt = set.tilt.in_radians();
    const double wind = by.uplift_factor * set.uplift.si();
    const double push = set.store ? by.uplift_factor * set.store->drag.si() : 0.0;
    const double lever = set.store ? 2.0 * set.store->axis.si() / set.store->base.si() : 0.0;
    const double held = by.ballast_weight_factor * set.empty.si() * gravity;
    const double against_lifting = wind - held;
    const double against_sliding =
        (wind * std::sin(tilt) + push) / by.friction + wind * std::cos(tilt) - held;
    const double against_tipping = wind + push * lever - held;
    const double missing = std::max({0.0, against_lifting, against_sliding, against_tipping});
    return units::kilograms(missing / (by.ballast_weight_factor * gravity));
}

}  // namespace wm::plant
