// The changes of the office's tables in PostgreSQL, one after the other; no data folder knows them.
#pragma once

#include <cstdint>
#include <string_view>

#include "exchange/office_connection.hpp"
#include "problem/result.hpp"

namespace wm::exchange {

/// Names of the two groups of roles. Whoever works with the office's database is a member of one.
inline constexpr std::string_view crew_group = "witnessmark_crew";
inline constexpr std::string_view lead_group = "witnessmark_lead";

inline constexpr std::int64_t office_version = 2;

/// The version of the tables; 0 where there are none. Refused where a later program made them.
[[nodiscard]] Result<std::int64_t> office_version_of(Connection& connection);

/// Brings the tables to `office_version`, all steps that are missing in one transaction. Gives how many were.
[[nodiscard]] Result<int> migrate_office(Connection& connection);

}  // namespace wm::exchange
