// Calibration dates.
#include "measure/instrument.hpp"

#include <chrono>

namespace wm::measure {
namespace {

std::optional<int> digits(std::string_view text) {
    int value = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        value = value * 10 + (c - '0');
    }
    return value;
}

}  // namespace

bool is_iso_day(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    const auto year = digits(text.substr(0, 4));
    const auto month = digits(text.substr(5, 2));
    const auto day = digits(text.substr(8, 2));
    if (!year || !month || !day) return false;
    return std::chrono::year_month_day{std::chrono::year{*year},
                                       std::chrono::month{static_cast<unsigned>(*month)},
                                       std::chrono::day{static_cast<unsigned>(*day)}}
        .ok();
}

CalibrationState calibration_state(const Instrument& instrument, std::string_view today) {
    if (!is_iso_day(today)) return CalibrationState::DatesUnclear;
    if (instrument.calibrated_on) {
        if (!is_iso_day(*instrument.calibrated_on)) return CalibrationState::DatesUnclear;
        if (today < *instrument.calibrated_on) return CalibrationState::NotYet;
    }
    if (!instrument.calibration_due) return CalibrationState::NotNeeded;
    if (!is_iso_day(*instrument.calibration_due)) return CalibrationState::DatesUnclear;
    return today <= *instrument.calibration_due ? CalibrationState::InDate
                                                : CalibrationState::Overdue;
}

bool is_in_date(const Instrument& instrument, std::string_view today) {
    const CalibrationState state = calibration_state(instrument, today);
    return state == CalibrationState::InDate || state == CalibrationState::NotNeeded;
}

}  // namespace wm::measure
