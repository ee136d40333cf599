// Calibration dates.
#include "measure/instrument.hpp"

#include <doctest/doctest.h>

using namespace wm::measure;

namespace {
Instrument gauge(std::optional<std::string> calibrated, std::optional<std::string> due) {
    Instrument instrument;
    instrument.id = "G-1";
    instrument.calibrated_on = std::move(calibrated);
    instrument.calibration_due = std::move(due);
    return instrument;
}
}  // namespace

TEST_CASE("an instrument counts up to and on the day its calibration is due") {
    const Instrument instrument = gauge("2026-03-04", "2027-03-04");
    CHECK(is_in_date(instrument, "2026-03-04"));
    CHECK(is_in_date(instrument, "2027-03-03"));
    CHECK(is_in_date(instrument, "2027-03-04"));
    CHECK(calibration_state(instrument, "2027-03-05") == CalibrationState::Overdue);
    CHECK_FALSE(is_in_date(instrument, "2027-03-05"));
}

TEST_CASE("a day before the calibration contradicts it") {
    const Instrument instrument = gauge("2026-03-04", "2027-03-04");
    CHECK(calibration_state(instrument, "2026-03-03") == CalibrationState::NotYet);
    CHECK_FALSE(is_in_date(instrument, "2026-03-03"));
}

TEST_CASE("an instrument without a due day is never overdue") {
    CHECK(calibration_state(gauge(std::nullopt, std::nullopt), "2027-03-04") ==
          CalibrationState::NotNeeded);
    CHECK(is_in_date(gauge("2020-01-01", std::nullopt), "2027-03-04"));
}

TEST_CASE("a date that is none in the calendar never passes") {
    CHECK_FALSE(is_in_date(gauge(std::nullopt, "2027-02-30"), "2027-01-01"));
    CHECK_FALSE(is_in_date(gauge("soon", "2027-03-04"), "2027-01-01"));
    CHECK_FALSE(is_in_date(gauge(std::nullopt, "2027-03-04"), "today"));
    CHECK_FALSE(is_in_date(gauge(std::nullopt, ""), "2027-01-01"));
}

TEST_CASE("a day is ten characters of a real calendar") {
    CHECK(is_iso_day("2028-02-29"));
    CHECK_FALSE(is_iso_day("2027-02-29"));
    CHECK_FALSE(is_iso_day("2027-2-9"));
    CHECK_FALSE(is_iso_day("2027/02/09"));
    CHECK_FALSE(is_iso_day("2027-13-01"));
    CHECK_FALSE(is_iso_day("20a7-01-01"));
}
