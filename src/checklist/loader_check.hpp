// One [[check]] of a checklist file into the model.
#pragma once

#include <optional>

#include "checklist/document.hpp"
#include "checklist/findings.hpp"
#include "checklist/loader.hpp"
#include "checklist/model.hpp"

namespace wm::checklist {

/// The check, or nullopt after noting what is wrong with it.
[[nodiscard]] std::optional<Check> check_of(const Item& table, Findings& findings);

/// read_checklist for a text whose document is at hand.
[[nodiscard]] Loaded read_checklist(const Result<Item>& document, std::string_view text,
                                    std::string_view file_name);

/// The facts of a table, with each fault noted in the file's own terms.
[[nodiscard]] std::vector<FactValue> facts_noted(const Item* table, Findings& findings);

}  // namespace wm::checklist
