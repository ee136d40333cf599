// The rules of the linter, one function a subject.
#pragma once

#include "checklist/findings.hpp"
#include "checklist/model.hpp"

namespace wm::checklist {

/// A checklist under the linter: `library` holds it too, so that its checks can ask one another.
struct Linted {
    const Checklist& list;
    const Library& library;
    Findings& findings;
};

/// Ids used twice, unknown stages, hold points that depend on later ones, empty stages.
void lint_order(const Linted& linted);
/// Cautions, sources, instruments, titles, answers: what a check must name and what must exist.
void lint_names(const Linted& linted);
/// Dimensions of every expression, and tolerances whose limits cannot be drawn.
void lint_expressions(const Linted& linted);
/// Checks whose condition can never be true.
void lint_reach(const Linted& linted);
/// Tolerances no instrument can meet, or outside what is plausible, on the example facts.
void lint_limits(const Linted& linted);
/// Examples that come out otherwise, and numbers with too few of them.
void lint_examples(const Linted& linted);

/// The instrument types, sources and settings of a library just read.
void lint_instruments(const Library& library, Findings& findings);
void lint_cautions(const Library& library, Findings& findings);

/// The place of a key of a check, or of the check itself if the key is not there.
[[nodiscard]] Position place_in(const Check& check, std::string_view key);
/// The example facts of a checklist with those of one example on top.
[[nodiscard]] Facts facts_for(const Checklist& list, const Example* example);

}  // namespace wm::checklist
