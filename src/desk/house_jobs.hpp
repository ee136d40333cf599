// The jobs of one house, and how its checks stand over all of them.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "desk/complaint_view.hpp"
#include "desk/desk.hpp"

namespace wm::desk {

/// The jobs at the house of a job, linked by the job they came after, oldest first; empty for an unknown job.
[[nodiscard]] std::vector<const JobRow*> jobs_of_house(const std::vector<JobRow>& rows, std::string_view job);

/// As people know the check; its id where no list holds it.
[[nodiscard]] std::string check_title(const checklist::Library& library, const std::string& id);

/// The check as the newest job has it in which anything was said of it; else as the first that asked it. A visit that is
/// still open and says nothing of it does not count. By check id.
using HouseRecord = std::map<std::string, CatchView, std::less<>>;
[[nodiscard]] Result<HouseRecord> record_of_house(Desk& desk, const std::vector<const JobRow*>& jobs);

}  // namespace wm::desk
