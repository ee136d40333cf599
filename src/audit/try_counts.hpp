// All tries of a span counted in one pass, by check, what a job must be alike in, crew and batch.
#pragma once

#include <cstdint>
#include <map>
#include <span>
#include <string_view>
#include <vector>

#include "audit/at_once.hpp"
#include "audit/columns.hpp"
#include "audit/likeness.hpp"

namespace wm::audit {

struct CountSpan {
    Day first = 0, last = 0;  ///< both included
    Day first_recent = 0;     ///< from here on tries are recent
};

/// Jobs that are alike for a check: the same stratum, crew and parts.
struct Kindred {
    Code alike = 0;    ///< roof, system and household as far as they matter: equal numbers are alike
    Code stratum = 0;  ///< the same with the parts behind the check
    Code crew = 0;
    bool vulnerable = false;
    std::vector<Code> batches;  ///< one for each material behind the check; no_batch where there is none
};
inline constexpr Code no_batch = 0xFFFFFFFF;

struct TryCell {
    std::uint32_t tries = 0, failed = 0;
    Day first = 0xFFFFFFFF, last = 0;

    void add(const TryCell& other);
};

/// A try that failed, for the lists of jobs.
struct FailedTry {
    Code check;
    std::uint32_t job;
    Day day;
    std::uint32_t kindred;  ///< index within the kin of its check
    bool recent;
};

/// The counts of one check: kin[i] has cells[2 i] before and cells[2 i + 1] recently.
struct CheckCounts {
    Code check = 0;
    std::vector<std::string_view> materials;  ///< behind the check
    const std::vector<Kindred>* kin = nullptr;
    std::vector<TryCell> cells;
    std::vector<FailedTry> failed;  ///< oldest first, then in the order of the columns
};

/// What counting needs and what came of it; the counts point into it.
class TryCounts {
public:
    /// Spread, each core counts a part of the jobs; what comes of it is the same.
    TryCounts(const Columns& columns, const CountSpan& span, Spread spread = Spread::No);
    TryCounts(const TryCounts&) = delete;
    TryCounts& operator=(const TryCounts&) = delete;

    /// By name of the check; only checks with tries.
    [[nodiscard]] const std::vector<CheckCounts>& checks() const { return checks_; }

private:
    /// One way of being alike, shared by all checks that need that way.
    struct Frame {
        Likeness likeness;
        std::vector<std::string_view> materials;
        std::vector<Kindred> kin;
        std::vector<std::uint32_t> of_job;  ///< index into kin; of no meaning for jobs outside the span
    };
    /// The jobs within the span, numbered by what they are apart from parts: few numbers for many jobs.
    struct Profiles {
        Profiles(const Columns& columns, const CountSpan& span, std::span<const Frame> frames);
        std::vector<std::uint32_t> jobs;
        std::vector<Code> of_job;               ///< of no meaning for jobs outside the span
        std::vector<std::uint32_t> first_job;   ///< of each number
        std::map<Code, std::vector<Code>> batch_of_job;  ///< by material that a frame asks for
    };
    [[nodiscard]] std::size_t frame_for(std::string_view check);
    static void fill(Frame& frame, const Columns& columns, const Profiles& profiles);

    std::vector<Frame> frames_;
    std::vector<CheckCounts> checks_;
};

}  // namespace wm::audit
