// What can be measured; each prints JSON lines.
#pragma once

#include <string>

namespace wm::bench {

/// Computations named on the input, one line each.
int computations(double seconds);
/// Append against a bare fdatasync of the same bytes, fold of a job, verify, in a folder of its own.
int journal(const std::string& folder, double seconds);
/// The week over the season in `data`, against SQLite counting the same results.
int week(const std::string& data, double seconds);

}  // namespace wm::bench
