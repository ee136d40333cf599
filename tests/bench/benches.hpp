// What can be measured; each prints JSON lines.
#pragma once

#include <filesystem>
#include <string>

namespace wm::bench {

/// Computations named on the input, one line each.
int computations(double seconds);
/// Append against a bare fdatasync of the same bytes, fold of a job, verify, in a folder of its own.
int journal(const std::string& folder, double seconds);
/// Ten thousand jobs, or as many as asked for, made from the season: list, start, full check, search.
int many_jobs(const std::filesystem::path& season, const std::filesystem::path& folder, int jobs, int entries_of_job, double seconds);
/// Keys and frames while a disk that takes 20 ms for each sync stores pictures, in a folder that many_jobs() made.
int slow_disk(const std::filesystem::path& data, double seconds);
/// A bundle of 10,000 entries taken in, against a plain upsert of the same rows.
int merge(const std::filesystem::path& season, const std::filesystem::path& folder, double seconds);
/// The report of the first job in `data` with twelve pictures, against a bare page library. `way`: "all", with the drawing
/// written to `into` for other engines; "ours", "bare" or "none" once and nothing else, to see what memory each takes.
int report(const std::filesystem::path& data, const std::string& way, const std::filesystem::path& into, double seconds);
/// The week over the season in `data`, and over up to ten million drawn results against SQLite counting the same. A
/// million of them are written to `rows_file` for other engines, if it is named: week, check, crew, failed as numbers.
int week(const std::string& data, const std::string& rows_file, double seconds);

/// The week of five jobs and of half a million, with its page, letter, frame and memory; `data` lends its checklists and keys.
int week_sizes(const std::string& data, double seconds);

/// Loading and linting a sound checklist, and each of the hostile ones of a megabyte.
int checklists(double seconds);
/// A changed tolerance over the readings of the season in `data`, repeated to a million, against SQLite comparing the same;
/// one tolerance expression against muparser.
int replay(const std::string& data, double seconds);

}  // namespace wm::bench
