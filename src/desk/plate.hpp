// What was read off the plate of a part, held against all jobs.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "desk/desk.hpp"

namespace wm::desk {

/// The serial number as one job has it, under the fact of that name.
struct Plate {
    std::string job, fact, serial;
};

/// Numbers of jobs at other houses where the same serial number stands: one part is in one house only. In order.
[[nodiscard]] Result<std::vector<std::string>> same_serial_elsewhere(Desk& desk, const Plate& plate);

/// Whether what stands on a plate is one of the articles or models that are wanted. A number is the same with and without the
/// zeros that fill it up to 14 digits; capitals and blanks at the ends of a model do not matter. Where none is wanted all are.
[[nodiscard]] bool is_wanted_article(const std::vector<std::string>& wanted, std::string_view article);

}  // namespace wm::desk
