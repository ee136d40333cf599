// Acceptance sampling.
#include "audit/sampling.hpp"

#include <algorithm>
#include <array>

#include "measure/demands.hpp"
#include "measure/distributions.hpp"

namespace wm::audit {
namespace {

using measure::Demands;

struct LotClass {
    std::int64_t up_to;
    char level_one;
    char level_two;
};

// ISO 2859-1:1999, table 1: level II as printed, level I from memory.
constexpr std::array lot_classes{
    LotClass{8, 'A', 'A'},   LotClass{15, 'A', 'B'},  LotClass{25, 'B', 'C'},
    LotClass{50, 'C', 'D'},  LotClass{90, 'C', 'E'},  LotClass{150, 'D', 'F'},
    LotClass{280, 'E', 'G'}, LotClass{500, 'F', 'H'}, LotClass{1200, 'G', 'J'}};

constexpr std::array letters{'A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J'};
constexpr std::array<std::int64_t, letters.size()> samples{2, 3, 5, 8, 13, 20, 32, 50, 80};

// ISO 2859-1:1999, table 2-A, from memory, in the order of the letters, arrows followed.
using Plans = std::array<Plan, letters.size()>;
constexpr Plans one_percent{
    {{13, 0}, {13, 0}, {13, 0}, {13, 0}, {13, 0}, {13, 0}, {50, 1}, {50, 1}, {80, 2}}};
constexpr Plans two_and_a_half{
    {{5, 0}, {5, 0}, {5, 0}, {5, 0}, {20, 1}, {20, 1}, {32, 2}, {50, 3}, {80, 5}}};
constexpr Plans four_percent{
    {{3, 0}, {3, 0}, {3, 0}, {13, 1}, {13, 1}, {20, 2}, {32, 3}, {50, 5}, {80, 7}}};

std::size_t letter_place(char letter) {
    return static_cast<std::size_t>(std::find(letters.begin(), letters.end(), letter) -
                                    letters.begin());
}

const Plans& plans_of(QualityLimit limit) {
    switch (limit) {
        case QualityLimit::OnePercent:
            return one_percent;
        case QualityLimit::TwoAndAHalfPercent:
            return two_and_a_half;
        case QualityLimit::FourPercent:
            break;
    }
    return four_percent;
}

void demand_plan(Demands& demands, const Plan& plan) {
    demands.that(plan.sample > 0, "n", "at least one job must be looked at")
        .that(plan.accepted >= 0 && plan.accepted <= plan.sample, "Ac",
              "it must lie between 0 and the sample");
}

}  // namespace

Result<char> code_letter(std::int64_t lot, InspectionLevel level) {
    Demands demands{"acceptance-sampling"};
    demands.that(lot >= 2 && lot <= lot_classes.back().up_to, "N",
                 "it must lie between 2 and 1200");
    if (demands.unmet()) return refused(*demands.unmet());
    const auto* found = std::find_if(lot_classes.begin(), lot_classes.end(),
                                     [&](const LotClass& each) { return lot <= each.up_to; });
    return level == InspectionLevel::I ? found->level_one : found->level_two;
}

Result<std::int64_t> sample_of_letter(char letter) {
    const std::size_t place = letter_place(letter);
    if (place < samples.size()) return samples[place];
    return refused(measure::unfit_input("acceptance-sampling", "code letter",
                                        "it must be one of A to H or J"));
}

Result<std::int64_t> weekly_sample(std::int64_t finished_jobs) {
    if (finished_jobs == 0 || finished_jobs == 1) return finished_jobs;
    const auto letter = code_letter(finished_jobs, InspectionLevel::I);
    if (!letter) return refused(letter.error());
    return std::min(samples[letter_place(*letter)], finished_jobs);
}

Result<Plan> single_plan(std::int64_t lot, QualityLimit limit) {
    const auto letter = code_letter(lot, InspectionLevel::II);
    if (!letter) return refused(letter.error());
    const Plan plan = plans_of(limit)[letter_place(*letter)];
    return plan.sample < lot ? plan : Plan{lot, 0};
}

Result<double> acceptance_probability(const Plan& plan, double failing_share) {
    Demands demands{"acceptance-sampling"};
    demand_plan(demands, plan);
    demands.finite("p", failing_share)
        .that(failing_share >= 0.0 && failing_share <= 1.0, "p", "it must lie between 0 and 1");
    if (demands.unmet()) return refused(*demands.unmet());
    return measure::binomial_cdf(plan.accepted, {plan.sample, failing_share});
}

Result<double> acceptance_probability(const Plan& plan, const Lot& lot) {
    Demands demands{"acceptance-sampling"};
    demand_plan(demands, plan);
    demands.that(plan.sample <= lot.total, "n", "it must not be more than the lot")
        .that(lot.failing >= 0 && lot.failing <= lot.total, "D_",
              "it must lie between 0 and the lot");
    if (demands.unmet()) return refused(*demands.unmet());
    return measure::hypergeometric_cdf(
        plan.accepted, {.total = lot.total, .marked = lot.failing, .drawn = plan.sample});
}

Result<double> failing_share_accepted(const Plan& plan, double probability) {
    Demands demands{"acceptance-sampling"};
    demand_plan(demands, plan);
    demands.that(plan.accepted < plan.sample, "Ac", "it must be below the sample")
        .inner_share("Pa", probability);
    if (demands.unmet()) return refused(*demands.unmet());
    // P(at most Ac) = P(Beta(Ac + 1, n - Ac) > p)
    return measure::beta_quantile(1.0 - probability, static_cast<double>(plan.accepted + 1),
                                  static_cast<double>(plan.sample - plan.accepted));
}

}  // namespace wm::audit
