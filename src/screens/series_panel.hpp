// Readings over time: the table, the chart, the countdown, and the strip that stays on top.
#pragma once

#include <optional>
#include <vector>

#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

/// What is being typed for the next reading of a series.
struct SeriesDraft {
    bool drop_asked = false;  ///< the first of two presses that throw a running series away
    bool end_asked = false;   ///< the same for ending one before its time
    double asked_at_s = 0.0;  ///< when either was asked: after some seconds it was a stray finger
    std::vector<std::string> values;  ///< one per channel
    std::size_t channel = 0;
    std::string extra;  ///< name of the extra reading being typed; empty for none
    std::string extra_value;
    std::optional<AskPreview> asked;  ///< what the readings so far mean was last asked for this
    std::string unit;                 ///< that the gauge shows, chosen before the start; empty: that of the check
    std::string doubted;              ///< a value that was asked about: added when it is pressed again
    std::string doubt;                ///< the question; shown while that value stands
    std::optional<bool> chart_wanted;  ///< where only one of chart and question has room, chosen by key
};

/// The run of this check, or nullptr.
[[nodiscard]] SeriesRun* run_of(std::vector<SeriesRun>& runs, std::string_view job,
                                std::string_view check);

/// Entry area of a series check. `entered` is filled when the person saves the whole series.
struct SeriesPlace {
    const desk::CheckView& check;
    const World& world;
    std::optional<Rect> keypad_at;  ///< a column of its own for the keypad, if there is room
    std::string& instrument;        ///< that the readings are read on
    bool tight = false;             ///< chart and question take turns, by a key beside the readings
};
[[nodiscard]] std::optional<std::string> series_panel(Touch& touch, const Rect& at,
                                                      const SeriesPlace& place, SeriesDraft& draft,
                                                      std::vector<SeriesRun>& runs,
                                                      Requests& requests);

/// What the keys need that stand there before its start.
[[nodiscard]] float start_keys_height(const Touch& touch, const desk::CheckView& check, const SeriesDraft& draft);
/// What a running series needs on a panel where chart and question have no room beside each other: the keypad unless it has a
/// column of its own, a row of keys, and one with the readings and the key that turns from one to the other.
[[nodiscard]] float tight_series_height(const Touch& touch, float width, bool keypad_beside);
/// Whether it is the chart's turn: from the second reading on, unless something was asked or the key says otherwise.
[[nodiscard]] bool shows_chart(const SeriesDraft& draft, const SeriesRun& run);

/// One key per running series: what is due, and when. Gives the run whose key was pressed.
[[nodiscard]] const SeriesRun* series_strip(Touch& touch, const Rect& at,
                                            const std::vector<SeriesRun>& runs,
                                            const Moment& moment);

/// Asks for a ring once for each reading that has become due.
void ring_due(std::vector<SeriesRun>& runs, const Moment& moment, Requests& requests);

/// Seconds until something on a strip changes; nullopt when no series runs.
[[nodiscard]] std::optional<double> seconds_to_redraw(const std::vector<SeriesRun>& runs);

}  // namespace wm::screens
