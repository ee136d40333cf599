// Every unit that is understood, for lists that people read.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "units/unit.hpp"

namespace wm::units {

struct UnitListed {
    Unit unit;
    std::vector<std::string_view> also;  ///< other spellings: "N m", "Nm"
};

/// In the order of the table; a bare number, whose spelling is empty, is left out.
[[nodiscard]] std::vector<UnitListed> all_units();

}  // namespace wm::units
