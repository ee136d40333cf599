// What a reader of the journal counted is kept for the next one: looking at a week again and again folds nothing anew.
#pragma once

#include "desk/desk.hpp"

namespace wm::desk {

/// Whether all but a few jobs of the week's columns are kept as they stand.
[[nodiscard]] Result<bool> columns_are_kept(Desk& desk);

/// Keeps what `desk` counted. `writer` is of the same folder, and open only for as long as that takes.
[[nodiscard]] Result<void> keep_columns(Desk& desk, store::Journal& writer);

}  // namespace wm::desk
