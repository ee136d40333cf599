// Leak evidence.
#include "measure/leak.hpp"

#include <algorithm>
#include <cmath>

#include "measure/demands.hpp"
#include "measure/distributions.hpp"
#include "measure/uncertainty.hpp"

namespace wm::measure {
namespace {

double effective_scatter(double scatter, double resolution) {
    return std::max(scatter, from_resolution(resolution).standard_uncertainty);
}

}  // namespace

Result<LeakEvidence> leak_evidence(const HoldReadings& readings) {
    Demands demands{"leak-verdict"};
    // Below one half the one-sided quantile is negative, and so would be the detection limit.
    demands.positive("delta", readings.resolution)
        .inner_share("conf", readings.confidence)
        .that(readings.confidence >= 0.5, "conf", "a proof wants at least 0.5");
    if (demands.unmet()) return refused(*demands.unmet());
    const auto fit = fitted_line(readings.times, readings.pressures);
    if (!fit) {
        Problem problem = fit.error();
        problem.where = "leak-verdict, t as x and p as y";
        return refused(std::move(problem));
    }

    const double degrees = static_cast<double>(fit->readings) - 2.0;
    const double two_sided = t_quantile(0.5 + 0.5 * readings.confidence, degrees);
    const double one_sided = t_quantile(readings.confidence, degrees);
    LeakEvidence evidence;
    evidence.fit = *fit;
    evidence.slope_uncertainty =
        effective_scatter(fit->scatter, readings.resolution) / std::sqrt(fit->spread);
    evidence.slope = {fit->slope - two_sided * evidence.slope_uncertainty,
                      fit->slope + two_sided * evidence.slope_uncertainty};
    evidence.detection_limit = one_sided * evidence.slope_uncertainty;
    evidence.highest_drop = std::max(0.0, -fit->slope) + evidence.detection_limit;
    return evidence;
}

Result<LeakVerdict> leak_verdict(const LeakEvidence& evidence, double allowed_rate) {
    if (auto problem = Demands{"leak-verdict"}.not_negative("L_a", allowed_rate).unmet()) {
        return refused(*problem);
    }
    if (evidence.highest_drop <= allowed_rate) return LeakVerdict::Pass;
    if (-evidence.slope.high > allowed_rate) return LeakVerdict::Leak;
    return LeakVerdict::Inconclusive;
}

Outcome outcome_of_hold(Outcome by_tolerance, LeakVerdict verdict) {
    const bool doubted = by_tolerance == Outcome::Conforms && verdict != LeakVerdict::Pass;
    return doubted ? Outcome::Inconclusive : by_tolerance;
}

Result<double> shortest_hold(const HoldPlan& plan) {
    Demands demands{"gauge-test-time"};
    demands.not_negative("delta", plan.resolution)
        .not_negative("s", plan.scatter)
        .that(plan.resolution > 0.0 || plan.scatter > 0.0, "delta or s", "one must be above 0")
        .positive("L", plan.allowed_rate)
        .that(plan.readings >= 3, "n", "at least 3 readings are needed")
        .inner_share("conf", plan.confidence)
        .that(plan.confidence >= 0.5, "conf", "a proof wants at least 0.5");
    if (demands.unmet()) return refused(*demands.unmet());
    const double n = plan.readings;
    const double t = t_quantile(plan.confidence, n - 2.0);
    return t * effective_scatter(plan.scatter, plan.resolution) /
           (plan.allowed_rate * std::sqrt(n * (n + 1.0) / (12.0 * (n - 1.0))));
}

}  // namespace wm::measure
