// What can be measured; each prints JSON lines.
#pragma once

#include <string>

namespace wm::bench {

/// Computations named on the input, one line each.
int computations(double seconds);
/// Append against a bare fdatasync of the same bytes, fold of a job, verify, in a folder of its own.
int journal(const std::string& folder, double seconds);
/// The week over the season in `data`, and over up to ten million drawn results against SQLite counting the same. A
/// million of them are written to `rows_file` for other engines, if it is named: week, check, crew, failed as numbers.
int week(const std::string& data, const std::string& rows_file, double seconds);

/// Loading and linting a sound checklist, and each of the hostile ones of a megabyte.
int checklists(double seconds);
/// A changed tolerance over the readings of the season in `data`, repeated to a million, against SQLite comparing the same;
/// one tolerance expression against muparser.
int replay(const std::string& data, double seconds);

}  // namespace wm::bench
