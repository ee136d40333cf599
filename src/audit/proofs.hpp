// How a check stood in the commissioning of each home on a day: proved, unproved, or not asked there.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string_view>
#include <utility>
#include <vector>

#include "audit/columns.hpp"

namespace wm::audit {

enum class Proof : std::uint8_t { Proved, Unproved, NotAsked };

/// A check, and the day on which it is asked how it stood; 0 = as it stands now.
struct CheckOnDay {
    Code check = 0;
    Day day = 0;
};

/// What may be expected of homes alike: same kind, same frost class, with a result of any check.
class HomesAlike {
public:
    /// Counts the checks asked for in one pass; of other checks it knows nothing.
    HomesAlike(const Columns& columns, const std::set<Code>& checks);

    /// At least eight homes are alike to that of the job, and nine in ten of them have a result of the check: elsewhere it may
    /// not apply. Never for jobs that are no commissioning, or have no result at all.
    [[nodiscard]] bool is_asked(std::size_t job, Code check) const;

    /// Homes alike are of one group, from 0 to before `groups`; nullopt for jobs that are no commissioning, or have no result.
    [[nodiscard]] std::optional<std::size_t> group_of(std::size_t job) const {
        return group_of_[job] == static_cast<std::size_t>(-1) ? std::nullopt : std::optional{group_of_[job]};
    }
    [[nodiscard]] std::size_t groups() const { return groups_.size(); }
    [[nodiscard]] bool is_asked_in(std::size_t group, Code check) const;

private:
    struct Group {
        std::size_t homes = 0;
        std::vector<std::size_t> read;  ///< by check of `index_`
    };
    std::vector<std::size_t> group_of_;  ///< by job
    std::vector<Group> groups_;
    std::map<Code, std::size_t> index_;
};

/// The outcome of a check in a job, as far as it had been read on that day (0 = now); nullopt where it had not. What was read on
/// the day itself counts as read later, unless the job began on it: the day is that of a call, and who calls is visited.
[[nodiscard]] std::optional<std::string_view> outcome_on(const Columns& columns, std::size_t job, const CheckOnDay& asked);

/// For each check asked for, job by job; of jobs of other kinds NotAsked. A check without a result counts as unproved where it
/// is asked of homes alike. A failure counts as what it is now: the day of its correction is not among the columns. Homes done
/// before `done_from` are NotAsked.
[[nodiscard]] std::vector<std::vector<Proof>> proofs_of(const Columns& columns, const std::vector<CheckOnDay>& asked, Day done_from = 0);

}  // namespace wm::audit
