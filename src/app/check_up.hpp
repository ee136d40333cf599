// Looks whether this machine is fit for the work of the day: what, where, and what to do.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/world.hpp"

namespace wm::app {

enum class Fitness { Fine, Advice, Wrong };
[[nodiscard]] std::string_view in_words(Fitness fitness);  ///< "fine", "advice", "wrong"

struct Finding {
    std::string subject;  ///< "fonts"
    Fitness fitness = Fitness::Fine;
    std::string what;        ///< one sentence without a name of a person, an instrument or a folder: it goes into the bundle
    std::string where;       ///< a place, or the names of what is meant; stays on this machine
    std::string what_to_do;  ///< "" where nothing is to be done; no names either
};

/// Share folder, fonts, data folder, free space, clock, journal, keys, backups, mail, instruments. Nothing is written.
[[nodiscard]] std::vector<Finding> check_up(const World& world);

/// What a person can read, and send to whoever helps: findings without places, versions, sizes, which settings are made (not
/// what they say), the end of the log. No name, address, folder or machine.
[[nodiscard]] std::string bundle_of_diagnostics(const World& world, const std::vector<Finding>& findings);

}  // namespace wm::app
