// How far a reading may be off, and whether the instrument lets it count as evidence at all.
#pragma once

#include <optional>
#include <string>

#include "checklist/judge.hpp"
#include "checklist/model.hpp"
#include "units/unit.hpp"

namespace wm::checklist {

/// A difference taken with one instrument loses what is wrong in both readings alike.
enum class ReadAs { Absolute, Difference };

/// What is asked of the instrument.
struct DoubtCase {
    std::optional<std::string> type;  ///< the checklist's; none for a plate, a count, the eye
    units::Unit unit;                 ///< of the number that is judged
    ReadAs as = ReadAs::Absolute;
};

struct Doubt {
    units::Amount expanded{};  ///< U, k = 2; zero where no instrument is asked for
    std::string words;         ///< "the weakest permitted torque wrench was assumed"; may be empty
    std::string not_evidence;  ///< why the reading does not count; empty if it does
};

/// The expanded uncertainty of `reading`. A registered instrument counts with its own figure, else
/// with that of its type. Not evidence: past its calibration, a calibrated type without a date,
/// its own check failed, a figure that cannot be read, an instrument for another quantity.
[[nodiscard]] Doubt doubt_of(const DoubtCase& of, const std::optional<InstrumentInUse>& used,
                             const units::Amount& reading, const Context& context);

/// The uncertainty an example names: "0.4 N·m", or "4 %" of the reading.
[[nodiscard]] std::optional<units::Amount> uncertainty_from(std::string_view text,
                                                            const units::Unit& unit,
                                                            const units::Amount& reading,
                                                            const Context& context);

}  // namespace wm::checklist
