// An instrument as it is registered, and whether its readings count on a day.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace wm::measure {

/// What a crew carries. Figures stay the text they were registered with, because that text is what
/// the journal holds; days are ISO texts (2027-03-04).
struct Instrument {
    std::string id;
    std::string type;                  ///< a type of the instrument catalogue
    std::string resolution;            ///< "0.5 N·m"
    std::string expanded_uncertainty;  ///< k = 2, "0.6 N·m" or "4 %"; empty: that of the type
    std::optional<std::string> calibrated_on;
    std::optional<std::string> calibration_due;
    std::string certificate;  ///< its number, empty if none
    std::string as_found;     ///< error found at the last calibration

    friend bool operator==(const Instrument&, const Instrument&) = default;
};

/// Whether a reading counts by the calibration alone. The day the calibration is due still counts.
enum class CalibrationState {
    InDate,
    NotNeeded,  ///< no due day is registered
    Overdue,
    NotYet,        ///< the day lies before the calibration: the dates contradict each other
    DatesUnclear,  ///< a date that is none in the calendar
};

[[nodiscard]] CalibrationState calibration_state(const Instrument& instrument,
                                                 std::string_view today);

/// True for InDate and NotNeeded. Where the type asks for calibration, NotNeeded is for the caller
/// to refuse: the catalogue knows, the instrument does not.
[[nodiscard]] bool is_in_date(const Instrument& instrument, std::string_view today);

/// Whether the text is a day of the calendar, written YYYY-MM-DD.
[[nodiscard]] bool is_iso_day(std::string_view text);

}  // namespace wm::measure
