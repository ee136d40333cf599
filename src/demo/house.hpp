// An invented house of Ostervaun with its facts: all figures here are made up for the demo.
#pragma once

#include <string>
#include <vector>

namespace wm::demo {

/// Instruments of one crew, with the day each is due.
struct CrewKit {
    std::string lead, members;
    std::string torque, pressure, thermometer;  ///< ids: "TW-1", "PG-1", "TH-1"
    std::string torque_due, pressure_due, thermometer_due;
    std::string calibrated_on;
    std::string pressure_calibrated_on{};  ///< of the pressure gauge; empty = as the others
    std::string shared_due = "2027-12-31";  ///< of what the store lends out
};

struct House {
    std::string street;
    std::string customer, email, language = "en";
    bool vulnerable = false;
    bool direct = false;
    std::string frost_class = "regular";
    double t_min_c = -13.0;
    double static_kpa = 420.0;
    std::string covering = "clay-tile";
    std::string mount = "roof hook";
    std::string controller = "temperature-and-timer";
    std::string fluid = "premix", fluid_batch = "PG-0412", fluid_expiry = "2028-06-30";
    std::string relief_batch = "RV-J04", limit_batch = "LV-220", tempering_batch = "TV-77", hook_batch = "RH-9";
    std::string serial = "0001";
    int household = 4;
    int taps = 3;
    bool slab = false;
};

/// The facts file of a commissioning job of this house and crew (TOML).
[[nodiscard]] std::string facts_text(const House& house, const CrewKit& crew);

/// The crews of the demo, C1 to C6, in order: "C1 Bramblewisp" and so on.
[[nodiscard]] std::vector<CrewKit> demo_crews();

}  // namespace wm::demo
