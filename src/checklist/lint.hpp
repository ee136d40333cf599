// The linter: what is wrong or doubtful in a content file, before any job uses it.
#pragma once

#include <string_view>
#include <vector>

#include "checklist/loader.hpp"
#include "checklist/model.hpp"

namespace wm::checklist {

struct LintReport {
    std::vector<Finding> findings;  ///< in the order of the file
    int checks = 0;
    int core = 0;

    [[nodiscard]] bool has_errors() const;
};

/// Lints one content file: a checklist, cautions.toml, instruments.toml, parts.toml or failures.toml, told
/// apart by what they hold. `library` supplies cautions, instrument types and sources, and the other checklists for
/// commissioning() and for ids used twice; the file itself may be among them.
[[nodiscard]] LintReport lint(std::string_view text, std::string_view file_name,
                              const Library& library);

}  // namespace wm::checklist
