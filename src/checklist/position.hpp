// A place in a text file, as people count it.
#pragma once

#include <cstdint>

namespace wm::checklist {

/// Line and column from 1; the column counts characters, not bytes. 0 means the place is unknown.
struct Position {
    std::uint32_t line = 0;
    std::uint32_t column = 0;

    friend bool operator==(const Position&, const Position&) = default;
};

}  // namespace wm::checklist
