// Checklists as read from their files: stages, checks, cautions, instrument types, settings.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "checklist/check_id.hpp"
#include "checklist/expression.hpp"
#include "checklist/facts.hpp"
#include "checklist/position.hpp"
#include "measure/outcome.hpp"
#include "units/unit.hpp"

namespace wm::checklist {

using measure::Outcome;

enum class Kind { Confirm, Choice, Quantity, Positions, Series, Text, Photo, Signature, Computed };

/// Hurts someone, damages property, loses performance, paperwork.
enum class Severity { Hurts, Damages, LosesPerformance, Paperwork };

enum class PhotoWish { None, Wanted, Required };

/// What the tool works out beside a check, before and while it is read: how long a gauge must be
/// watched and what its readings say as a line; the sun on the plane under a clear sky; where true
/// north lies; what the loop should show.
enum class WorkedOut { HoldTime, SunOnPlane, TrueNorth, LoopRise, HeatGain };

/// What a single place of a `positions` check is answered with.
enum class EntryForm { Number, Confirm, Choice };

/// Rules that are no expression; record and desk carry them out.
enum class ComputedRule { CrewLicences, InstrumentsDue, OpenItems, KitReady, SurveyVerdict };

enum class OutsideCounts { DoesNotConform, Inconclusive };

[[nodiscard]] std::string_view in_words(Kind kind);  ///< "positions"
[[nodiscard]] std::optional<Kind> kind_named(std::string_view word);
[[nodiscard]] std::string_view letter_of(Severity severity);  ///< "H"
[[nodiscard]] std::string_view in_words(Severity severity);   ///< "can hurt someone"
[[nodiscard]] std::optional<Severity> severity_named(std::string_view letter);
[[nodiscard]] std::string_view in_words(ComputedRule rule);  ///< "crew-licences"
[[nodiscard]] std::optional<ComputedRule> rule_named(std::string_view word);

struct Stage {
    std::string id;
    std::string title;
    std::optional<int> minutes;
    Position at;
};

/// What readings may plausibly be, in the unit of the check. Outside of it one is asked again.
struct PlausibleRange {
    double low = 0.0;
    double high = 0.0;
};

/// A further thing asked with a check, entered with its name as the place.
struct Part {
    std::string name;
    Kind kind = Kind::Confirm;  ///< Confirm, Choice, Quantity or Text
    std::string question;
    std::optional<units::Unit> unit;
    std::optional<PlausibleRange> plausible;
    std::optional<Expression> tolerance;
    std::optional<Expression> target;
    std::optional<std::string> instrument;
    std::vector<std::string> accept;
    std::vector<std::string> refuse;
    std::optional<int> decimals;
    bool required = false;
    std::string said;  ///< of a confirm: the statement that is kept with the main reading where the person sees it beside; empty: none
    std::optional<Expression> applies;  ///< by facts and by `answer`, the main answer of the check; none: always
    OutsideCounts outside = OutsideCounts::DoesNotConform;  ///< of a quantity
    Position at;
};

/// A named single reading beside a series: "water start".
struct ExtraReading {
    std::string name;
    units::Unit unit;
};

/// How a series is read: channels, spacing, what else is noted.
struct SeriesPlan {
    std::vector<std::string> channels;  ///< empty: one channel without a name
    std::vector<ExtraReading> extras;
    std::optional<units::Amount> every;
    std::optional<units::Amount> duration;
    int min_points = 2;
    std::vector<Expression> also;
    /// The smallest drop over `duration` that the tolerance still allows, to plan the test by.
    std::optional<units::Amount> allowed_drop;
};

/// A condition without which a reading proves nothing, and the words for when it does not hold.
struct Validity {
    Expression condition;
    std::string words;
};

/// A case with its expected outcome, run by the linter.
struct Example {
    std::vector<FactValue> facts;  ///< on top of the example facts of the file
    std::string reading;
    std::optional<std::string> uncertainty;
    Outcome expected = Outcome::Open;
    std::string why;
    std::map<std::string, std::string> parts;     ///< by name of the part
    std::map<std::string, std::string> outcomes;  ///< of other checks: id to outcome in words
    std::map<std::string, std::string> answers;   ///< of other checks
    std::map<std::string, std::string> values;    ///< of other checks, with unit
    std::map<std::string, std::string> earlier;   ///< values of the commissioning job, with unit
    std::string today;                            ///< empty: the date of the checklist
    bool photo_attached = true;
    Position at;
    Position outcome_at;
};

struct Check {
    CheckId id;
    std::string stage;
    Kind kind = Kind::Confirm;
    bool core = false;
    bool hold = false;
    Severity severity = Severity::Paperwork;
    std::string title;
    std::string question;
    std::string why;
    std::string how;
    std::string pitfall;  ///< what goes wrong when it is measured; empty where nothing is known to
    std::string on_fail;
    std::vector<std::string> cautions;
    std::optional<std::string> instrument;
    std::string evidence;
    PhotoWish photo = PhotoWish::None;
    std::string photo_of;
    std::vector<std::string> sources;
    std::optional<Expression> applies;
    std::optional<units::Unit> unit;
    std::optional<PlausibleRange> plausible;
    std::optional<Expression> tolerance;
    std::optional<Expression> target;
    std::optional<int> decimals;
    std::vector<CheckId> after;
    std::string activity;

    std::vector<std::string> accept;
    std::vector<std::string> refuse;
    std::map<std::string, Expression> accept_when;

    std::vector<std::string> places;
    std::optional<Expression> places_from;
    EntryForm entry = EntryForm::Number;
    std::optional<Expression> together;

    std::optional<SeriesPlan> series;
    /// The number that is judged, made from what was read; it is then `reading` in the tolerance.
    std::optional<Expression> measurand;
    std::optional<units::Unit> measurand_unit;  ///< none: the unit of the check
    std::optional<ComputedRule> rule;
    std::string signer;  ///< "crew" or "customer"
    /// The reading is a difference of two readings of one instrument: its difference uncertainty
    /// counts. A series whose measurand subtracts is one without being told.
    bool is_difference = false;
    /// The number judged is a distance from where the reading should be: a limit counts both ways.
    bool is_deviation = false;

    std::vector<Validity> valid_when;
    std::optional<Expression> concession_when;
    OutsideCounts outside = OutsideCounts::DoesNotConform;
    std::vector<WorkedOut> works_out;
    std::vector<std::string> defer_reasons;
    std::optional<int> defer_days;
    bool restricts = false;
    std::string licence;  ///< "electrician", "plumber" or empty

    std::vector<Part> parts;
    std::vector<Example> examples;
    Position at;                             ///< of its [[check]]
    std::map<std::string, Position> key_at;  ///< of the value of each key that was written

    [[nodiscard]] const Part* part_named(std::string_view name) const;
    /// The unit of the number that is judged: that of the measurand of a series, else `unit`.
    [[nodiscard]] std::optional<units::Unit> judged_unit() const;
    /// Whether an answer is a number that is held against limits.
    [[nodiscard]] bool is_numeric() const;
};

struct Checklist {
    std::string name;
    std::string title;
    int version = 0;
    std::string date;  ///< ISO day
    std::string reason;
    std::vector<FactValue> example_facts;
    std::vector<Stage> stages;
    std::vector<Check> checks;
    std::string file_name;
    std::string text;  ///< the file byte for byte: what a job pins by its hash

    [[nodiscard]] const Check* find(const CheckId& id) const;
    [[nodiscard]] const Stage* stage_named(std::string_view id) const;
};

struct Caution {
    std::string id;
    std::string title;
    std::string text;
    bool refer = false;
    Position at;
};

struct InstrumentType {
    std::string id;
    units::Unit unit;
    std::string resolution;
    std::optional<Expression> uncertainty;  ///< U, k = 2, of the weakest allowed
    std::optional<Expression> difference_uncertainty;
    bool calibrated = false;
    std::string use_check;
    std::vector<std::string> sources;
    Position at;
};

struct SourceMark {
    std::string mark;
    std::string title;
    std::string state;
};

/// A convention behind a derived value, with its source.
struct Setting {
    std::string name;
    double value = 0.0;
    std::string unit;
    std::vector<std::string> sources;
    std::string meaning;
};

/// All that a job pins: checklists and what they refer to.
struct Library {
    std::vector<Checklist> checklists;
    std::vector<Caution> cautions;
    std::string caution_tail;
    std::vector<InstrumentType> instrument_types;
    std::vector<SourceMark> sources;
    std::vector<Setting> settings;
    std::string cautions_text;  ///< the files byte for byte, for the pin
    std::string instruments_text;

    [[nodiscard]] const Checklist* checklist_named(std::string_view name) const;
    [[nodiscard]] const Check* find(const CheckId& id) const;
    [[nodiscard]] const Caution* caution_named(std::string_view id) const;
    [[nodiscard]] const InstrumentType* type_named(std::string_view id) const;
    [[nodiscard]] const SourceMark* source_marked(std::string_view mark) const;
    [[nodiscard]] const Setting* setting_named(std::string_view name) const;
};

/// The title of a source for people; "common practice, no source" for CP.
[[nodiscard]] std::string source_in_words(const Library& library, std::string_view mark);

}  // namespace wm::checklist
