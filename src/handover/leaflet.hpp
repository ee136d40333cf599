// The sheet that stays by the heater: how this very set is set, what is normal, what to do, whom to call.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "handover/report_input.hpp"
#include "problem/result.hpp"

namespace wm::handover {

enum class ControllerKind { None, Temperature, Timer };

/// Where the water goes that the store pushes out while it heats up.
enum class GrowingWater { BackToMain, Vessel, SeenDrain };

/// As they were read on the day, each with its unit; empty where nobody read it, or where it did not conform.
struct LeafletSettings {
    std::string heater;        ///< "65 °C"
    std::string taps;          ///< the hottest washing tap, "46 °C"
    std::string taps_allowed;  ///< "50 °C"
    std::string pressure;      ///< behind the limiting valve, no tap open: "350 kPa"
    std::string relief;        ///< "600 kPa"
    std::string freezes;       ///< the fluid of the loop, "-19 °C"
    bool program_right = false;  ///< of a controller with a timer
};

struct Leaflet {
    std::string job, company, contact, place, date;
    std::string fitted_by, serials;
    bool practice = false;
    bool finished = false;  ///< nothing stands against the handover; else it is a draft
    bool shown = false;     ///< the household has been shown the seven things
    std::string own_words;  ///< what the household said back; empty where nobody wrote it down
    figures::PlantShape plant;
    std::optional<ControllerKind> controller;
    std::optional<GrowingWater> growing;
    std::optional<bool> frost;  ///< whether it freezes at this place
    std::string coldest;        ///< lowest air temperature in 20 years, "-13 °C"; empty where not known
    bool heated_pipe = false;   ///< an electric lead keeps the outdoor cold pipe from freezing
    bool vulnerable = false;    ///< small children, old or disabled people
    std::string cover_until;    ///< where the glass stays covered: until when, and who takes it off
    LeafletSettings set;
    std::vector<CareDate> care;
    Moment written;
    PaperSize paper = PaperSize::A4;
    FontFiles fonts;
};

/// One sheet, both sides, whatever the set.
void pour_leaflet(Book& book, const Leaflet& leaflet);

/// The file. It is no evidence, so nothing seals it.
[[nodiscard]] Result<std::string> draw_leaflet(const Leaflet& leaflet);

}  // namespace wm::handover
