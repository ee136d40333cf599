// The judgement of a check: what its readings, its tolerance and its instrument say together.
//
// The desk calls these functions and writes what they return into the journal. They read no clock
// and keep no state: facts, library, day and the other checks of the job come in with Context.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "checklist/facts.hpp"
#include "checklist/model.hpp"
#include "measure/decision.hpp"
#include "measure/leak.hpp"
#include "problem/result.hpp"

namespace wm::checklist {

class DerivedValues;

enum class PhotoState { Missing, Attached };

/// One reading as it was entered. `place` is "" for a check without places, else a place of a
/// positions check or the name of a part.
struct ReadingInput {
    std::string place;
    std::string text;
    std::optional<InstrumentInUse> instrument;
    PhotoState photo = PhotoState::Missing;
};

/// Everything else an expression may ask for. The functions may be empty: then nothing is known.
struct Context {
    const Facts& facts;
    const Library& library;
    std::string today;  ///< ISO day
    std::function<std::optional<Outcome>(const CheckId&)> outcome_of;
    std::function<std::optional<std::string>(const CheckId&)> answer_of;
    std::function<std::optional<units::Amount>(const CheckId&)> value_of;
    /// The value of a check of the commissioning job of the same house.
    std::function<std::optional<units::Amount>(const CheckId&)> earlier_value_of;
    /// The derived values of these facts, where someone keeps them over many judgements; without
    /// it each evaluation works out its own.
    DerivedValues* derived = nullptr;
};

/// What an expression still waits for.
struct Missing {
    std::vector<std::string> facts;   ///< keys of facts nobody gave
    std::vector<std::string> checks;  ///< ids of checks without an answer yet
    std::string trouble;              ///< an arithmetic one: "division by zero"; else empty

    [[nodiscard]] bool none() const { return facts.empty() && checks.empty() && trouble.empty(); }
};

enum class Applies { Yes, No, Unknown };

struct Applicability {
    Applies answer = Applies::Yes;
    std::string condition;  ///< in words, with the values of this house; "" if it always applies
    Missing missing;
};

[[nodiscard]] Applicability applies(const Check& check, const Context& context);

/// The places that must have a reading: "1".."n" or names of a positions check, the names of the
/// required parts; "" for the main answer.
struct NeededPlaces {
    std::vector<std::string> places;
    Missing missing;
};
/// `latest` are the answers that stand: which parts belong to the check may hang on the main one.
[[nodiscard]] NeededPlaces needed_places(const Check& check, const Context& context,
                                         const std::vector<ReadingInput>& latest);

/// Whether a part is asked at all. Unknown, naming nothing, while the main answer it hangs on is not there.
[[nodiscard]] Applicability part_applies(const Check& check, const Part& part, const Context& context,
                                         const std::vector<ReadingInput>& latest);

/// What is allowed, for the drawing and the report, before or after a reading.
struct Limits {
    std::optional<units::Amount> low;
    std::optional<units::Amount> high;
    std::optional<units::Amount> accept_low;
    std::optional<units::Amount> accept_high;
    std::optional<units::Amount> target;
    std::optional<units::Unit> unit;
    measure::Rule rule = measure::Rule::None;
    std::string text;                     ///< "18 to 22 N·m (20 N·m ± 10 %)"
    std::vector<std::string> derivation;  ///< how the limits came about, a line each
    Missing missing;
    std::optional<units::Amount> uncertainty;  ///< the one the acceptance limits were made with
};

/// Limits for one place ("" for the main answer). With `instrument` absent the weakest permitted
/// one is assumed; an uncertainty that depends on the reading is taken at the limits.
[[nodiscard]] Limits limits_for(const Check& check, std::string_view place, const Context& context,
                                const std::optional<InstrumentInUse>& instrument = std::nullopt);

/// How far a reading outside the tolerance is off, where the checklist has bands.
enum class Band { None, ConcessionPossible, Blocking };

/// The readings of a holding test as a line. Rates a minute in the unit of the check; a fall is
/// positive.
struct Trend {
    double drop = 0.0;
    double low = 0.0;           ///< two-sided, 95 %
    double high = 0.0;
    double surely_below = 0.0;  ///< one-sided, 95 %
    double allowed = 0.0;
    measure::LeakVerdict verdict = measure::LeakVerdict::Inconclusive;
    std::string words;  ///< all of it in sentences
};

struct Judged {
    Outcome outcome = Outcome::Open;
    std::string why;  ///< full plain sentences: reading, limit, uncertainty, rule
    std::optional<double> probability;
    Limits limits;
    std::optional<double> uncertainty;      ///< expanded, in `limits.unit`
    std::optional<units::Amount> measured;  ///< the number that was judged
    std::vector<std::string> missing_facts;
    std::vector<std::string> waits_for;  ///< ids of checks this one needs an answer of
    std::vector<std::string> missing_places;
    bool outside_plausible = false;
    Band band = Band::None;
    std::optional<Trend> trend;  ///< of a holding test with three readings or more
};

/// Why the text is no answer to this check, or its place none of the check's; none if it can be
/// judged.
[[nodiscard]] std::optional<Problem> why_unreadable(const Check& check, const ReadingInput& reading,
                                                    const Context& context);

/// Judges one place. A problem: the text cannot be read as an answer to this check.
[[nodiscard]] Result<Judged> judge_reading(const Check& check, const ReadingInput& reading,
                                           const Context& context);

/// Judges the check from the latest reading of each place: the worst place counts, a missing
/// place keeps it open, and a condition over all places is judged once all are there. A check that
/// does not apply is *not applicable*, whatever was read. Computed checks with an expression are
/// judged here from no readings at all; those with a rule come back open, with `why` naming it.
[[nodiscard]] Result<Judged> judge_whole(const Check& check,
                                         const std::vector<ReadingInput>& latest,
                                         const Context& context);

/// "1=23.5; 2=24; 3=23.8 N·m" as one reading a place, the last unit counting for all without one.
/// A text without "=" comes back as the single place "".
[[nodiscard]] Result<std::vector<std::pair<std::string, std::string>>> split_positions(
    const Check& check, std::string_view text);

/// The rule a computed check is decided by, if it is none of expressions.
[[nodiscard]] std::optional<ComputedRule> computed_by_rule(const Check& check);

}  // namespace wm::checklist
