// The tables of a journal file, their versions, and how a file of another program is refused.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "problem/result.hpp"
#include "store/sqlite_file.hpp"
#include "store/steps.hpp"

namespace wm::store {

/// Stands in the file's header ("WMJ1"), so that no other program's file is taken for a journal.
inline constexpr std::int64_t application_id = 0x574d4a31;
/// Raised with every change of the tables; older files are brought up, newer ones refused.
inline constexpr std::int64_t schema_version = 1;

/// Checks the file before anything is changed in it, then sets it up for writing: WAL, synchronous FULL,
/// secure_delete, and every step beyond its version, all of them or none.
[[nodiscard]] Result<void> set_up_for_writing(const Database& database, const std::string& where, Steps steps = own_steps());

/// The version of the tables when they are older than the last step and hold something; such a file
/// is copied before it is brought up. Nothing is changed.
[[nodiscard]] Result<std::optional<std::int64_t>> older_version(const Database& database, const std::string& where,
                                                                Steps steps = own_steps());
/// Sentences on what is otherwise than the steps up to its version make it: a trigger, a view, another table or index, one
/// that is missing. Such a thing could drop or alter what is stored without a word. Empty = as it should be.
[[nodiscard]] Result<std::vector<std::string>> altered_tables(const Database& database, Steps steps = own_steps());

/// Checks the file; nothing is changed.
[[nodiscard]] Result<void> check_for_reading(const Database& database, const std::string& where, Steps steps = own_steps());

}  // namespace wm::store
