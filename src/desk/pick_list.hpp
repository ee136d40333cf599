// What the store puts together for a job, with the amounts of this house.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "desk/ticks.hpp"
#include "measure/outcome.hpp"
#include "problem/result.hpp"

namespace wm::desk {

class Desk;

struct PickRow {
    std::string part;   ///< id
    std::string check;  ///< of the kit, where it is counted
    std::string check_title;
    std::string name, note;
    std::string amount;                ///< "10.7 m"; "" while facts are missing
    std::vector<std::string> how;      ///< how the amount came about, a line each
    std::vector<std::string> missing;  ///< what is still to be known, in words
    std::vector<std::string> sources;  ///< marks
    std::string unit{};
    std::optional<double> least{};     ///< in `unit`, before it was rounded up
    std::vector<std::string> roof{};   ///< checks of the commissioning where it is asked about
    std::vector<std::string> articles{};  ///< articles or models that may be fitted; empty: any
    std::string serial{}, batch{};     ///< facts that keep its serial number and its batch; "" for none
    std::optional<Tick> store{}, van{};      ///< of this job, else of the nearest one before it at the house
    std::vector<std::string> in_doubt{};     ///< what is not as listed, a sentence with its question each
};

/// An instrument type that the checks of the commissioning ask for.
struct PickInstrument {
    std::string type;
    std::vector<std::string> registered;  ///< "TW-1, calibrated until 2027-06-30", "…, OUT OF DATE"
};

struct PickListView {
    std::string job, place, version;  ///< version: of the list of parts, with its day
    std::vector<PickRow> rows;
    std::vector<PickInstrument> instruments;
};

/// Of any job whose facts say what is fitted: a survey, a kit or a commissioning. The amounts are those of the list of parts as
/// it is published now, and what was ticked as there is held against them. Unreadable if there is no list of parts or no such job.
[[nodiscard]] Result<PickListView> pick_list(Desk& desk, const std::string& job);

/// The same as a PDF to be ticked twice, at the store and at the van.
[[nodiscard]] Result<std::string> pick_sheet(Desk& desk, const PickListView& list);

}  // namespace wm::desk
