// What a job's own facts say about whether it is worth another visit.
#pragma once

#include <optional>
#include <string>

#include "record/state.hpp"

namespace wm::audit {

/// Empty or nullopt where it was never stated, or cannot be read.
struct VisitFacts {
    std::string handed_over{};  ///< day of the last handover that stands, in full or restricted; empty while the job is not finished
    std::string handed_by{};    ///< hash of that entry: nobody can tell it beforehand
    std::optional<double> loop_run_m{};  ///< hot and cold pipe of the loop together, metres
    std::optional<double> coldest_c{};   ///< lowest air temperature in 20 years, °C
    std::optional<double> air_c{};       ///< outside on the day of the work, °C
    std::string pipe{};        ///< of the house: "copper", "galvanised", "mixed", …
    std::string controller{};  ///< "none", "temperature", "temperature-and-timer"
    friend bool operator==(const VisitFacts&, const VisitFacts&) = default;
};

/// Total: what cannot be read is left out.
[[nodiscard]] VisitFacts visit_facts_of(const record::JobState& job);

}  // namespace wm::audit
