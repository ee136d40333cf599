#include "audit/agreement.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "measure/demands.hpp"
#include "measure/distributions.hpp"

namespace wm::audit {

Result<Agreement> cohen_kappa(const AnswerPairs& pairs, double confidence) {
    measure::Demands demands{"kappa"};
    demands.inner_share("conf", confidence);
    const std::array<std::array<std::int64_t, 2>, 2> counts = {
        {{pairs.both_pass, pairs.pass_fail}, {pairs.fail_pass, pairs.both_fail}}};
    std::int64_t total = 0;
    for (const auto& row : counts)
        for (const auto count : row) {
            demands.not_negative("n", static_cast<double>(count));
            total += count;
        }
    demands.positive("n", static_cast<double>(total));
    if (demands.unmet()) return refused(*demands.unmet());
    const auto n = static_cast<double>(total);
    std::array<std::array<double, 2>, 2> p{};
    std::array<double, 2> first{}, second{};
    for (std::size_t i = 0; i < 2; ++i)
        for (std::size_t j = 0; j < 2; ++j) {
            p[i][j] = static_cast<double>(counts[i][j]) / n;
            first[i] += p[i][j];
            second[j] += p[i][j];
        }
    const double seen = p[0][0] + p[1][1];
    const double by_chance = first[0] * second[0] + first[1] * second[1];
    if (by_chance >= 1.0)
        return refused({"All answers of both visitors are the same, so agreement says nothing.", "kappa",
                        "Wait until the check was answered both ways.", ProblemKind::Refused});
    const double kappa = (seen - by_chance) / (1.0 - by_chance);
    double a = 0.0;
    double b = 0.0;
    for (std::size_t i = 0; i < 2; ++i)
        for (std::size_t j = 0; j < 2; ++j) {
            if (i == j) a += p[i][i] * std::pow(1.0 - (first[i] + second[i]) * (1.0 - kappa), 2.0);
            else b += p[i][j] * std::pow(second[i] + first[j], 2.0);
        }
    b *= (1.0 - kappa) * (1.0 - kappa);
    const double c = std::pow(kappa - by_chance * (1.0 - kappa), 2.0);
    const double deviation = std::sqrt(std::max(0.0, a + b - c) / n) / (1.0 - by_chance);
    const double half = measure::normal_quantile(0.5 + 0.5 * confidence) * deviation;
    return Agreement{kappa, {std::max(-1.0, kappa - half), std::min(1.0, kappa + half)}};
}

}  // namespace wm::audit
