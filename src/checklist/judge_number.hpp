// A number against its tolerance: limits, uncertainty and decision rule together.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checklist/bounds.hpp"
#include "checklist/doubt.hpp"
#include "checklist/evaluate.hpp"
#include "checklist/judge.hpp"
#include "measure/decision.hpp"

namespace wm::checklist {

/// What of a check or of one of its parts matters for judging a number.
struct NumberCase {
    const Expression* tolerance = nullptr;  ///< null: nothing is demanded
    const Expression* target = nullptr;
    units::Unit unit;  ///< of the number that is judged
    std::optional<int> decimals;
    measure::Importance importance = measure::Importance::Ordinary;
    measure::ToleranceOn on = measure::ToleranceOn::Value;
    DoubtCase doubt;
    std::optional<units::Unit> said_in;  ///< the sentences speak in it and have `unit` in brackets; none: in `unit` alone
};

/// Lets the sentences speak in the unit a value was entered in, where it is another one for the same thing: who reads psi
/// off a gauge cannot compare it with kPa.
void say_in(NumberCase& of, const std::optional<units::Unit>& entered_in);
/// "60 psi (413.7 kPa)": as it was entered, and as it is judged.
[[nodiscard]] std::string said(const NumberCase& of, const units::Amount& amount);

[[nodiscard]] NumberCase number_case(const Check& check);
[[nodiscard]] NumberCase number_case(const Check& check, const Part& part);

/// Judges `measured`, which stands for `reading` in the tolerance; `entered` is what the
/// instrument showed and decides its uncertainty. `given.names` has both set by this function.
[[nodiscard]] Judged judge_number(const NumberCase& of, const units::Amount& measured,
                                  const units::Amount& entered, const Given& given,
                                  const std::optional<InstrumentInUse>& instrument);

/// Judges a condition over all places or points: each mean(reading), largest(reading), … in it is
/// held against its own limits; `entered` stands for the size of the readings in the uncertainty.
[[nodiscard]] Judged judge_together(const Expression& together, const NumberCase& of,
                                    const units::Amount& entered, const Given& given,
                                    const std::optional<InstrumentInUse>& instrument);

/// The limits alone, before a reading.
[[nodiscard]] Limits limits_of(const NumberCase& of, const Given& given,
                               const std::optional<InstrumentInUse>& instrument);

/// Whether the weakest permitted instrument leaves room for any reading to conform; nullopt where
/// the limits are not known or nothing is demanded.
[[nodiscard]] std::optional<measure::Fitness> fitness_of(const NumberCase& of, const Given& given);

/// Notes in a judgement what is missing for it; its outcome becomes open.
void leave_open(Judged& judged, const Missing& missing);

/// The worse of two outcomes with its reasons; readings of the better one are dropped, what is
/// missing for either is kept.
[[nodiscard]] Judged worse_of(Judged one, Judged other);

}  // namespace wm::checklist
