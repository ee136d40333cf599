// Every option of the command line. Reading, help, manual page and completions are made from this one table.
#pragma once

#include <string_view>
#include <vector>

namespace wm::app {

/// What follows an option. A shell offers files, folders, the numbers of jobs, the checks of a job, or the words of `value`.
enum class Value { None, Text, File, Folder, Job, Check, Choice };

struct Option {
    std::string_view name;  ///< without the dashes
    Value follows;
    std::string_view value;  ///< how the value is shown; of a Choice its words, parted by "|"; "" where none follows
    std::string_view meaning;

    [[nodiscard]] bool takes_value() const { return follows != Value::None; }
};

[[nodiscard]] const std::vector<Option>& option_table();

/// nullptr for a name that no option has.
[[nodiscard]] const Option* option_named(std::string_view name);

}  // namespace wm::app
