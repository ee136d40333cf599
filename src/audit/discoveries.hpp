// False discoveries among questions of several kinds, each kind with its share of the error allowed.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "problem/result.hpp"

namespace wm::audit {

/// One comparison out of many.
struct Hypothesis {
    double p = 1.0;        ///< 0 to 1, never too small if nothing distinguishes the two
    double least_p = 0.0;  ///< the smallest p its margins allow; at most p
    std::size_t kind = 0;  ///< index into the shares
};

/// q of each hypothesis in the order given; 1 for those that are left out. What has q up to `level`
/// is a discovery: of all of these a share of at most `level` is false in the long run, and where
/// nothing is to be found the chance of any is at most `level`.
///
/// A hypothesis whose margins can never reach significance is left out beforehand, so that it costs
/// the others nothing: within a kind the smallest k is sought at which no more than k hypotheses
/// have least_p · k up to the level of their kind. What is left is weighted, p · (hypotheses of the
/// kind) / (share of the kind), and ranked together. The shares are fixed in advance and add up to
/// at most 1; a kind that asks nothing gives its share away to nobody.
///
/// Problems: no hypotheses, a p outside 0 to 1, an unknown kind, shares not above 0 or beyond 1 in
/// all, a level outside 0 to 1.
/// Source: Tarone 1990, Biometrics 46:515-522, and Gilbert 2005, JRSS C 54:143-158, for what is left
/// out; Genovese, Roeder and Wasserman 2006, Biometrika 93:509-524, for the weights; Benjamini and
/// Hochberg 1995 for the rank.
[[nodiscard]] Result<std::vector<double>> discoveries(std::span<const Hypothesis> hypotheses,
                                                      std::span<const double> shares, double level);

}  // namespace wm::audit
