// The sentences of a judgement: conditions, limits and reasons as people read them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checklist/evaluate.hpp"
#include "checklist/judge.hpp"
#include "checklist/model.hpp"
#include "measure/decision.hpp"

namespace wm::checklist {

/// The expression with facts by their meaning and words without quotes, and the values of this
/// house behind it: "kind of the set is indirect (kind of the set: direct)".
[[nodiscard]] std::string condition_in_words(const Expression& expression, const Facts& facts);

/// The setting that "setting.clock_off" names, or nothing for any other name.
[[nodiscard]] const Setting* setting_in(std::string_view name, const Library& library);
/// "60 s".
[[nodiscard]] std::string setting_text(const Setting& setting);

/// How the limits came about: each known fact, setting and derived value the expression names, a
/// line each.
[[nodiscard]] std::vector<std::string> derivation_of(const Expression& expression,
                                                     const Given& given);

/// "Still to be known: lowest air temperature in 20 years (site.t_min_c)."
[[nodiscard]] std::string missing_in_words(const Missing& missing);

/// Everything the sentence about a judged number is made of.
struct NumberWords {
    std::string measured;  ///< "20.5 N·m"
    std::string allowed;   ///< "18 to 22 N·m"
    std::string low;
    std::string high;
    std::string uncertainty;  ///< "0.8 N·m"; empty where there is none
};

/// Why this outcome: reading, limit, uncertainty and rule in one or two plain sentences.
[[nodiscard]] std::string reason_in_words(const measure::Judgement& judgement,
                                          const NumberWords& words);

}  // namespace wm::checklist
