// Which checks can catch what a customer complains of.
#pragma once

#include <string>
#include <vector>

namespace wm::audit {

/// A symptom, and a check that would have caught a cause of it.
struct SymptomLink {
    std::string symptom, check;
    bool in_frost = false;  ///< counts only where frost was told with the complaint
};
/// The catalogue of failures, as far as the audit needs it. The audit cannot open content.
using SymptomLinks = std::vector<SymptomLink>;

}  // namespace wm::audit
