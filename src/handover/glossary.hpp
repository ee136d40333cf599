// The words of the trade that a report uses, for people who do not know them.
#pragma once

#include <vector>

#include "handover/report_input.hpp"

namespace wm::handover {

/// In alphabetical order; in our own words.
[[nodiscard]] std::vector<GlossaryTerm> standard_glossary();

}  // namespace wm::handover
