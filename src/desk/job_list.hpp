// The rows of the job list as they are kept between two starts, so that opening the list folds only what changed.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "desk/view.hpp"

namespace wm::desk {

struct ListedJob {
    std::string last_hash;  ///< of the entry the row was made after; another one makes the row stale
    std::string opened_at;  ///< stamp of the journal; row.started is made from it at each look
    JobRow row;
};

/// By job number.
using ListedJobs = std::map<std::string, ListedJob, std::less<>>;

/// Changes when a row is made otherwise, so that no row of an older program is believed.
inline constexpr std::string_view job_list_made_from = "rows 6";

/// One text with the length before each field; any byte may stand in a field.
[[nodiscard]] std::string text_of(const ListedJobs& jobs);
/// nullopt unless the whole of it is such a text.
[[nodiscard]] std::optional<ListedJobs> read_listed(std::string_view text);

}  // namespace wm::desk
