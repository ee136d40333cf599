#include "checklist/loop_expectation.hpp"

#include <array>
#include <cmath>
#include <limits>
#include <span>

#include "checklist/derived_names.hpp"
#include "plant/glycol.hpp"

namespace wm::checklist {

namespace {

// Common practice, no source: a wall of 1 mm, a store of half a metre across, the losses of four bends and two ends, a
// collector of headers and risers.
constexpr double pipe_wall_m = 0.001;
constexpr double store_across_m = 0.5;
constexpr double fittings = 6.0;
constexpr double collector_pa_s_kg = 800.0;

// What freezes later than this table's ends is taken as its end.
constexpr double weakest_percent = 10.0;
constexpr double strongest_percent = 50.0;

double mixture_that_freezes_at(units::Temperature first_ice) {
    double weak = weakest_percent;
    double strong = strongest_percent;
    for (int i = 0; i < 40; ++i) {
        const double middle = (weak + strong) / 2.0;
        (*plant::glycol_freezing_point(middle) > first_ice ? weak : strong) = middle;
    }
    return (weak + strong) / 2.0;
}

}  // namespace

std::optional<double> antifreeze_percent(const Context& context) {
    if (context.facts.word("sys.kind") != "indirect") return std::nullopt;
    const auto measured =
        context.value_of ? context.value_of(CheckId{"loop-freeze-point"}) : std::nullopt;
    if (measured) return mixture_that_freezes_at(units::Temperature::kelvin(measured->si));
    const auto* asked = derived_named("d.glycol_pct");
    const auto share = derived_value(*asked, context);
    if (!share.is_known()) return std::nullopt;
    return 100.0 * *share.si;
}

std::optional<plant::LoopInSun> loop_of(const Context& context, const plant::SolarStore& store) {
    const auto& facts = context.facts;
    const bool direct = facts.word("sys.kind") == "direct";
    const auto percent = antifreeze_percent(context);
    if (!direct && !percent) return std::nullopt;
    const auto hot = facts.number("sys.run_hot_m");
    const auto cold = facts.number("sys.run_cold_m");
    const auto outside = facts.number("sys.pipe_od_mm");
    const auto slope = facts.number("sys.coll_len_m");
    const auto tilt = facts.number("sys.tilt_target");
    const auto lift = facts.number("sys.min_rise_mm");
    if (!hot || !cold || !outside || !slope || !tilt || !lift) return std::nullopt;
    const auto across = facts.number("sys.tank_across_m");
    const double half_store = (across ? across->si : store_across_m) / 2.0;
    return plant::LoopInSun{
        .cold = direct ? store.air : store.air + jacket_step,
        .height = units::metres(slope->si * std::sin(tilt->si) / 2.0 + lift->si + half_store),
        .pipe = {.bore = units::metres(outside->si - 2.0 * pipe_wall_m),
                 .length = units::metres(hot->si + cold->si),
                 .fittings = fittings},
        .collector_resistance = plant::FlowResistance::from_si(collector_pa_s_kg),
        .collector = store.collector,
        .curve = store.curve,
        .sun = store.sun,
        .air = store.air,
        .glycol_percent = percent};
}

std::optional<LoopExpectation> loop_expected(const plant::LoopInSun& loop, double sun_share) {
    const auto state = plant::loop_in_sun(loop);
    if (!state) return std::nullopt;
    const auto rise = [&](std::span<const double> x) {
        auto other = loop;
        other.sun = units::watts_per_square_metre(x[0]);
        other.height = units::metres(x[1]);
        other.pipe.fittings = x[2];
        other.collector_resistance = plant::FlowResistance::from_si(x[3]);
        other.cold = units::Temperature::kelvin(x[4]);
        const auto at = plant::loop_in_sun(other);
        return at ? at->rise.si() : std::numeric_limits<double>::quiet_NaN();
    };
    const std::array<measure::Estimate, 5> known_as{
        measure::Estimate{loop.sun.si(), sun_share * loop.sun.si()},
        measure::Estimate{loop.height.si(), loop_height_doubt * loop.height.si()},
        measure::Estimate{loop.pipe.fittings, loop_fittings_doubt * loop.pipe.fittings},
        measure::Estimate{loop.collector_resistance.si(), loop_collector_doubt * loop.collector_resistance.si()},
        measure::Estimate{loop.cold.in_kelvin(), loop.glycol_percent ? jacket_step_doubt.si() : 0.0}};
    const auto estimate = measure::propagated(rise, known_as);
    if (!estimate) return std::nullopt;
    return LoopExpectation{*estimate, state->flow.flow.si() * 60.0};
}

}  // namespace wm::checklist
