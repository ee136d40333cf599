// The tables of a journal file, their versions, and how a file of another program is refused.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "problem/result.hpp"
#include "store/sqlite_file.hpp"

namespace wm::store {

/// Stands in the file's header ("WMJ1"), so that no other program's file is taken for a journal.
inline constexpr std::int64_t application_id = 0x574d4a31;
/// Raised with every change of the tables; older files are brought up, newer ones refused.
inline constexpr std::int64_t schema_version = 1;

/// Checks the file before anything is changed in it, then sets it up for writing: tables made or
/// migrated, WAL, synchronous FULL, secure_delete.
[[nodiscard]] Result<void> set_up_for_writing(const Database& database, const std::string& where);

/// The version of the tables when they are older than this program's and hold something; such a file
/// is copied before it is brought up. Nothing is changed.
[[nodiscard]] Result<std::optional<std::int64_t>> older_version(const Database& database,
                                                                const std::string& where);
/// Sentences on what is otherwise than this program makes it: a trigger, a view, another table or index, one that is
/// missing. Such a thing could drop or alter what is stored without a word. Empty = as it should be.
[[nodiscard]] Result<std::vector<std::string>> altered_tables(const Database& database);

/// Checks the file; nothing is changed.
[[nodiscard]] Result<void> check_for_reading(const Database& database, const std::string& where);

}  // namespace wm::store
