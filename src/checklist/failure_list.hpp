// The catalogue of failures: what a customer notices, what can be behind it, and the checks that catch it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "checklist/document.hpp"
#include "checklist/expression.hpp"
#include "checklist/findings.hpp"
#include "checklist/model.hpp"
#include "problem/result.hpp"

namespace wm::checklist {

/// What a caller says.
struct Symptom {
    std::string id;
    std::string words;
    std::string at_once;  ///< what the caller does until somebody comes; empty = nothing
    Position at;
};

/// What brings a failure out.
enum class Weather { Any, Frost, Heat, Sun, Rain, Gale };

struct FailureMode {
    std::string id;
    std::string mode, looks_like, cause;
    std::vector<std::string> symptoms;  ///< ids
    std::vector<std::string> checks;    ///< ids that would have caught it
    std::string look_also;              ///< which other jobs to look at
    double often = 1.0;                 ///< beside the others of the list, above 0
    Weather weather = Weather::Any;
    std::optional<Expression> needs;    ///< a house of which it does not hold cannot have it
    std::vector<std::string> sources;
    Position at;
};

/// What a circumstance multiplies the chance of a cause by.
struct LikelihoodWeight {
    double factor = 1.0;  ///< above 0
    std::string words;
    std::vector<std::string> sources;
    Position at;
};

struct FailureList {
    int version = 0;
    std::string date;    ///< ISO day
    std::string reason;  ///< why this version was made
    std::vector<Symptom> symptoms;
    std::vector<FailureMode> failures;
    std::map<std::string, LikelihoodWeight, std::less<>> weights;  ///< by circumstance, all of `weight_names`

    [[nodiscard]] const Symptom* symptom(std::string_view id) const;
    [[nodiscard]] const FailureMode* failure(std::string_view id) const;
};

/// The circumstances that have a weight: how a check stands, weather and season, site against record.
[[nodiscard]] const std::vector<std::string_view>& weight_names();

/// Reads failures.toml with every fault noted: checks that no list of the library holds, symptoms that are not listed, symptoms
/// that no failure has, ids used twice, unknown sources, weights that are missing or unknown, expressions that do not fit.
void read_failures(FailureList& list, const Item& document, const Library& library, Findings& findings);

/// The same, refused as a whole at the first fault.
[[nodiscard]] Result<FailureList> load_failures(std::string_view text, std::string_view file_name, const Library& library);

}  // namespace wm::checklist
