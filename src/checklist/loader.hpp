// Reading checklists, cautions and instruments from TOML.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "checklist/model.hpp"
#include "problem/result.hpp"

namespace wm::checklist {

enum class Grade { Error, Advice };

/// Something wrong or doubtful in a content file.
struct Finding {
    Position at;
    std::string what;
    std::string what_to_do;
    Grade grade = Grade::Error;
    std::string
        excerpt;  ///< the source line, and below it carets under what is meant; may be empty

    friend bool operator==(const Finding&, const Finding&) = default;
};

/// "checklists/survey.toml:41: what\n    line\n      ^^^\nwhat to do": one finding as it is
/// printed.
[[nodiscard]] std::string told(const Finding& finding, std::string_view file_name);

/// What could be read of a checklist, and every fault met on the way. A check with a fault of its
/// own is left out of `checklist`, so that nothing half-read is ever judged.
struct Loaded {
    Checklist checklist;
    std::vector<Finding> findings;
};
[[nodiscard]] Loaded read_checklist(std::string_view text, std::string_view file_name);

/// The same with the dimensions of every expression checked, refused as a whole at the first
/// fault. Whatever passes can be judged; the linter looks further.
[[nodiscard]] Result<Checklist> load_checklist(std::string_view text, std::string_view file_name);

/// Adds the content of cautions.toml or instruments.toml to the library.
[[nodiscard]] Result<void> load_cautions(Library& library, std::string_view text,
                                         std::string_view file_name);
[[nodiscard]] Result<void> load_instruments(Library& library, std::string_view text,
                                            std::string_view file_name);

}  // namespace wm::checklist
