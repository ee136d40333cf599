// The readings of a series as an instrument gives them, kept in series/ of the data folder until the series is entered.
//
// A series is one entry, made when its last reading is there. Until then each reading is synced to the disk as it comes, so
// that a plug that is drawn, a kill or a loss of power takes none away. One file a check, "series/J-1A2B-0001 test-hold.toml":
//
//     job, check, place, instrument, started = "…"     # instrument: its mark; started: RFC 3339
//     [[reading]]
//     at_s = 120                                        # seconds since `started`
//     text = "480 kPa"
//     evidence = "…"
//
// The file goes when the series is entered. It holds no word of a person.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "problem/result.hpp"

namespace wm::app {

struct KeptReading {
    int at_s = 0;
    std::string text;
    std::string evidence;
};

struct KeptSeries {
    std::string job, check, place, instrument, started;
    std::vector<KeptReading> readings;  ///< at_s rises
};

[[nodiscard]] std::filesystem::path series_file(const std::filesystem::path& data, const std::string& job, const std::string& check);

/// Nothing where nothing is kept. Problem: the file is none of ours.
[[nodiscard]] Result<std::optional<KeptSeries>> read_series_kept(const std::filesystem::path& file);
[[nodiscard]] Result<void> keep_series(const std::filesystem::path& file, const KeptSeries& series);

/// "0 s=480 kPa; 120 s=479 kPa", as a series is typed.
[[nodiscard]] std::string typed_form(const KeptSeries& series);

}  // namespace wm::app
