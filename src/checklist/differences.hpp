// Two versions of a checklist beside each other, in words a quality lead reads.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"

namespace wm::checklist {

/// One thing that the later version says otherwise.
struct Difference {
    std::string check;      ///< id; empty for the list as a whole
    std::string key;        ///< as it is written in the table of the check; empty for a check that is new, gone or moved
    std::string words;      ///< "Tolerance: was …, is …."
    bool decides = false;   ///< an outcome may depend on it; false for what people only read

    friend bool operator==(const Difference&, const Difference&) = default;
};

/// True for the keys of a check that people read and no outcome depends on.
[[nodiscard]] bool is_wording(std::string_view key);

/// What `after` says otherwise than `before`: first of the list as a whole, then check by check in its order, then
/// the checks that are gone. Version, day and reason are no difference. Refuses a text that is no TOML.
[[nodiscard]] Result<std::vector<Difference>> differences(std::string_view before, std::string_view after, std::string_view file_name);

}  // namespace wm::checklist
