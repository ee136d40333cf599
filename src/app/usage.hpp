// The usage lines of the forms, taken apart: what help, manual page and completions are made from.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/commands.hpp"
#include "app/options.hpp"

namespace wm::app {

/// One form with one second word, as `job show`. Options of a line that names no second word are under "".
struct Usage {
    std::string verb;                    ///< "show"; "" where the form has no second word
    std::vector<std::string> values;     ///< what stands behind it, as written: "JOB", "CHECK", "FILE.toml"
    std::vector<const Option*> options;  ///< in the order of the lines
};

/// A usage line reads: the form, second words parted by "|" ("instruments|people"), values in capitals, options with
/// their value; square brackets around what may be left out. Lines that begin with blanks go on with the line above;
/// " | " parts forms in one line.
[[nodiscard]] std::vector<Usage> usages_of(const Command& command);

/// Every option of the form, in the order of the table.
[[nodiscard]] std::vector<const Option*> options_of(const Command& command);
/// Those that every form takes: data folder, clock, JSON, help, the PIN.
[[nodiscard]] std::vector<const Option*> options_of_all_forms();

/// What a shell offers for a value of a usage line: "JOB" is Job, "FILE.toml" File, "DIR" Folder, "CHECK" Check; else Text.
[[nodiscard]] Value offered_for(std::string_view value);

}  // namespace wm::app
