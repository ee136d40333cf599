// What was read off the plate of a part, held against all jobs.
#pragma once

#include <string>
#include <vector>

#include "desk/desk.hpp"

namespace wm::desk {

/// The serial number as one job has it, under the fact of that name.
struct Plate {
    std::string job, fact, serial;
};

/// Numbers of jobs at other houses where the same serial number stands: one part is in one house only. In order.
[[nodiscard]] Result<std::vector<std::string>> same_serial_elsewhere(Desk& desk, const Plate& plate);

}  // namespace wm::desk
