// Guard bands.
#include "measure/acceptance_limits.hpp"

#include "measure/demands.hpp"

namespace wm::measure {
namespace {

Limits moved(const Limits& limits, double outwards) {
    Limits result;
    if (limits.low) result.low = *limits.low - outwards;
    if (limits.high) result.high = *limits.high + outwards;
    return result;
}

bool is_within(double reading, const Limits& limits) {
    return (!limits.low || reading >= *limits.low) && (!limits.high || reading <= *limits.high);
}

}  // namespace

Result<Acceptance> acceptance_limits(const Limits& tolerance, const GuardBand& band) {
    Demands demands{"acceptance-limits"};
    demands.not_negative("U", band.expanded_uncertainty)
        .not_negative("r", band.factor)
        .that(tolerance.low || tolerance.high, "T_L or T_U", "at least one limit is needed");
    if (tolerance.low) demands.finite("T_L", *tolerance.low);
    if (tolerance.high) demands.finite("T_U", *tolerance.high);
    if (tolerance.low && tolerance.high) {
        demands.that(*tolerance.low <= *tolerance.high, "T_L", "it must not lie above T_U");
    }
    if (demands.unmet()) return refused(*demands.unmet());

    Acceptance acceptance;
    acceptance.limits = moved(tolerance, -band.factor * band.expanded_uncertainty);
    if (!tolerance.low || !tolerance.high) return acceptance;
    acceptance.nothing_left = *acceptance.limits.low > *acceptance.limits.high;
    if (band.expanded_uncertainty > 0.0) {
        const double width = *tolerance.high - *tolerance.low;
        acceptance.uncertainty_ratio = width / (2.0 * band.expanded_uncertainty);
        acceptance.capability = width / (4.0 * band.expanded_uncertainty / 2.0);
    }
    return acceptance;
}

Result<Ruling> symmetrical_ruling(double reading, const Limits& tolerance, const GuardBand& band) {
    const auto acceptance = acceptance_limits(tolerance, band);
    if (!acceptance) return refused(acceptance.error());
    if (auto problem = Demands{"acceptance-limits"}.finite("y", reading).unmet()) {
        return refused(*problem);
    }
    if (is_within(reading, acceptance->limits)) return Ruling::Accept;
    const Limits rejection = moved(tolerance, band.factor * band.expanded_uncertainty);
    return is_within(reading, rejection) ? Ruling::Undecided : Ruling::Reject;
}

}  // namespace wm::measure
