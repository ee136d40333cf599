// A series of readings that is running: kept beside other work and across a restart.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "problem/result.hpp"

namespace wm::screens {

/// One reading: seconds since the start and one typed text per channel (one without channels).
struct SeriesRow {
    int at_s = 0;
    std::vector<std::string> texts;
    friend bool operator==(const SeriesRow&, const SeriesRow&) = default;
};

struct SeriesRun {
    std::string job, check, title;
    std::int64_t started_s = 0;  ///< seconds of the epoch
    int every_s = 120;           ///< above 0
    int duration_s = 600;
    std::vector<SeriesRow> rows;
    std::vector<std::pair<std::string, std::string>> extras;  ///< name, typed text
    std::string instrument{};  ///< the readings are read on; empty: the first of the job
    std::string unit{};        ///< that the gauge shows; empty: that of the check
    int rung_for = -1;  ///< the reading that was rung for last
    friend bool operator==(const SeriesRun&, const SeriesRun&) = default;
};

/// Seconds from the start of the run to its first reading, from which the times of all are counted;
/// 0 before it.
[[nodiscard]] int first_at(const SeriesRun& run);

/// Readings the whole run has: one at the start, one at each interval, one at the end.
[[nodiscard]] int planned(const SeriesRun& run);

/// The number (from 0) of the reading to take next, and seconds until it is due; below 0 when late.
struct NextDue {
    int reading = 0;
    std::int64_t in_s = 0;
    bool all_taken = false;
};
[[nodiscard]] NextDue next_due(const SeriesRun& run, std::int64_t now_s);

/// What is entered for the check: "0 min=480 kPa; 2 min=480 kPa; water start=18.2 °C", or with
/// channels "0 min: riser=41 °C, downcomer=33 °C". A typed text without unit is given that of the run, else `unit`.
[[nodiscard]] std::string entered_text(const SeriesRun& run,
                                       const std::vector<std::string>& channels,
                                       std::string_view unit);

/// The runs as a small text file, and back. Fields are separated by tabs, one line each; a line
/// begins with run, row or extra. Tabs and line feeds in texts become spaces.
[[nodiscard]] std::string written(const std::vector<SeriesRun>& runs);
[[nodiscard]] Result<std::vector<SeriesRun>> read_runs(std::string_view text);

/// "4:07", and "1:02:30" from an hour on; never negative.
[[nodiscard]] std::string clock_words(std::int64_t seconds);

}  // namespace wm::screens
