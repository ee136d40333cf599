// What is known of a job before any check: house, roof, water, heater, system, crew, instruments.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "checklist/position.hpp"
#include "measure/instrument.hpp"
#include "problem/result.hpp"
#include "units/unit.hpp"

namespace wm::checklist {

/// Licence: a number and the day it runs out, in one text. Names: people, one or several.
enum class FactType { Number, Integer, Text, Choice, YesNo, Date, Licence, Names };

[[nodiscard]] std::string_view in_words(FactType type);

/// One row of the table of facts.
struct FactSpec {
    std::string_view key;  ///< "sys.anchor_nm"
    FactType type = FactType::Text;
    std::string_view unit;      ///< of a plain number, "" where there is none
    std::optional<double> low;  ///< plausible range, in `unit`
    std::optional<double> high;
    std::string_view choices;  ///< "timber-rafter / steel-purlin"; "" unless a choice
    std::string_view meaning;  ///< a noun phrase: "tightening torque of the store anchors"
    bool personal = false;     ///< kept apart and erasable

    [[nodiscard]] std::vector<std::string> choice_words() const;
    [[nodiscard]] units::Unit unit_in_use() const;
};

/// Every fact a facts file may hold, by table and in the order in which they are asked.
[[nodiscard]] const std::vector<FactSpec>& fact_table();
[[nodiscard]] const FactSpec* fact_named(std::string_view key);
/// The key that was probably meant, "" if none is near.
[[nodiscard]] std::string nearest_fact(std::string_view key);

/// A fact as it was entered and what it means. Words, dates and texts are kept in `word`.
struct FactValue {
    std::string key;
    std::string text;                     ///< as entered; numbers printed as in the file
    std::optional<units::Amount> number;  ///< Number, Integer
    std::optional<bool> yes;              ///< YesNo
    std::string word;                     ///< Text, Choice, Names
    std::optional<std::string> date;      ///< Date, Licence: ISO day
    bool outside_plausible = false;
    Position at;
};

/// Whether the instrument passed its own check before use, as the crew says.
enum class PreUse { NotSaid, Passed, Failed };

/// Before the figure of an instrument that is described by its largest permissible error (the key
/// `mpe`) and not by a calibrated uncertainty (`u`): "permissible error 10 kPa".
inline constexpr std::string_view permissible_error_mark = "permissible error ";

/// An instrument of [[inst]], with the answer to the check before use.
struct InstrumentInUse {
    measure::Instrument card;
    std::string range;
    PreUse preuse = PreUse::NotSaid;
    /// U (k = 2) of the very number that is judged, worked out elsewhere; counts before all else.
    std::string uncertainty_as_judged;
};

/// The facts of one job. A fact that nobody gave is not there, and no default replaces it.
class Facts {
public:
    [[nodiscard]] const FactValue* find(std::string_view key) const;
    [[nodiscard]] bool knows(std::string_view key) const { return find(key) != nullptr; }
    [[nodiscard]] std::optional<units::Amount> number(std::string_view key) const;
    /// Text, choice or names; "yes"/"no" of a yes/no fact.
    [[nodiscard]] std::optional<std::string> word(std::string_view key) const;
    [[nodiscard]] std::optional<bool> yes(std::string_view key) const;
    [[nodiscard]] std::optional<std::string> date(std::string_view key) const;

    void set(FactValue value);
    [[nodiscard]] const std::map<std::string, FactValue, std::less<>>& all() const {
        return values_;
    }

private:
    std::map<std::string, FactValue, std::less<>> values_;
};

/// A value outside its plausible range: accepted, but to be confirmed by a person.
struct Question {
    std::string key;
    std::string words;  ///< "The static pressure is 3100 kPa; 20 to 1200 kPa would be usual."
};

struct FactsFile {
    Facts facts;
    std::vector<InstrumentInUse> instruments;
    std::vector<Question> questions;
};

/// A facts file (TOML). Refuses, with line and column: what is no TOML, an unknown key (naming the
/// nearest), a value of the wrong type, unit or dimension, a word that is no choice.
[[nodiscard]] Result<FactsFile> load_facts(std::string_view text, std::string_view file_name);

/// One fact from a command line: key "site.t_min_c", text "-13" or "-13 °C".
[[nodiscard]] Result<FactValue> read_fact(std::string_view key, std::string_view text);

/// "The static pressure is 3100 kPa; 20 to 1200 kPa would be usual."; nullopt if it is plausible.
[[nodiscard]] std::optional<Question> question_about(const FactValue& value);

}  // namespace wm::checklist
