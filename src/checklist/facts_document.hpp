// Facts out of a document: the same rules for a facts file and for the examples of a checklist.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "checklist/document.hpp"
#include "checklist/facts.hpp"

namespace wm::checklist {

/// A fact that could not be read, with its place.
struct FactFault {
    Position at;
    std::string what;  ///< "There is no fact \"site.latitud\"."
    std::string what_to_do;
};

struct FactsRead {
    std::vector<FactValue> values;
    std::vector<FactFault> faults;
};

/// Every fact of a table whose keys are those of the table of facts, nested or dotted. The key
/// `inst` is left to the caller.
[[nodiscard]] FactsRead facts_of(const Item& table);

}  // namespace wm::checklist
