// The words of the trade that a report uses, for people who do not know them.
#pragma once

#include <vector>

#include "handover/report_input.hpp"

namespace wm::handover {

/// In alphabetical order; in our own words. The words are those of the company's language, in which the evidence is written;
/// their meanings are in the customer's.
[[nodiscard]] std::vector<GlossaryTerm> standard_glossary(const language::Language& say = {});

}  // namespace wm::handover
