// Entry of one number: value, place on the tolerance scale, what it would mean, keypad.
#pragma once

#include "screens/run_draft.hpp"

namespace wm::screens {

/// The preview of what is typed now; nullptr while none has come. One of an earlier value is not
/// given.
[[nodiscard]] const desk::Preview* preview_now(const World& world, const RunDraft& draft);

/// What saving would mean, in shape and word, or that a warning should be read first; why stands in check_prose. Where it takes
/// the place of the head, the name of the check stands above it.
void meaning(Touch& touch, const Rect& at, const desk::Preview& preview, std::string_view title = {});

/// "3.1 to 4.8 bar": what is required, in the unit the instrument shows; empty where it is that of the limits.
[[nodiscard]] std::string required_as_shown(const desk::LimitsView& limits, std::string_view unit);

/// The newest reading of a check that was neither taken back nor replaced; nullptr without one.
[[nodiscard]] const desk::ReadingView* standing_reading(const desk::CheckView& check);

/// The unit after `now` that instruments for the same thing show, in turn; empty where there is only one.
[[nodiscard]] std::string next_unit(std::string_view now);
/// As the unit of the instrument at hand shows it; as it is where one of the units is not known.
[[nodiscard]] std::optional<double> shown_in(std::optional<double> value, std::string_view from, std::string_view to);

/// "PG-1 gauge": the number of an instrument and what it is.
[[nodiscard]] std::string instrument_words(const desk::InstrumentView& instrument);

/// "± 4 kPa", or since when its calibration is over.
[[nodiscard]] std::string instrument_doubt(const desk::InstrumentView& one);

/// For panels too low for one column: the keypad on one side, value, instrument and scale
/// elsewhere.
struct SplitNumber {
    Rect keypad_at;
    Rect value_at;
};
void split_number_panel(Touch& touch, const SplitNumber& at, const desk::CheckView& check,
                        const World& world, RunDraft& draft, Requests& requests);

/// One column, as wide as the keypad: value, scale, meaning, keys.
void number_panel(Touch& touch, const Rect& at, const desk::CheckView& check, const World& world,
                  RunDraft& draft, Requests& requests);

/// One key per instrument of the right type; those out of date say so.
void instrument_keys(Touch& touch, const Rect& at, const desk::CheckView& check, RunDraft& draft);

}  // namespace wm::screens
