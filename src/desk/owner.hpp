// Who sees to what was put off: one of ours stays on record, a customer's name goes with the customer.
#pragma once

#include <string>

#include "desk/desk.hpp"

namespace wm::desk {

/// Whether the name is that of the crew of this job or of any other, of a person with a PIN, or says the crew or the
/// office. Never that of the job's own customer, whoever else bears it; a name that nobody knows counts as the
/// customer's.
[[nodiscard]] Result<bool> is_one_of_ours(Desk& desk, const record::JobState& job, const std::string& name);

/// The owner as a deferral keeps it: locked for the house where it is one of ours. Nothing for no name.
[[nodiscard]] Result<std::optional<record::Personal>> locked_owner(Desk& desk, const record::JobState& job, const std::string& name);

/// Before a customer is erased: owners of ours that older deferrals locked under the customer's key are kept for the house.
[[nodiscard]] Result<void> keep_owners(Desk& desk, const std::string& customer);

}  // namespace wm::desk
