// The results of all jobs as columns of small numbers, so that a million of them are counted in milliseconds.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "audit/names.hpp"
#include "audit/results.hpp"

namespace wm::audit {

/// An ISO day as year · 10,000 + month · 100 + day, so that order of numbers is order of days; 0 for
/// a text that is no day.
using Day = std::uint32_t;
[[nodiscard]] Day day_code(std::string_view day);
[[nodiscard]] std::string day_text(Day day);

/// Whether jobs stand by number, so that one is found by halving.
[[nodiscard]] bool stand_by_number(const std::vector<JobCard>& jobs);

/// Rows from first to before last.
struct RowRange {
    std::size_t first = 0, last = 0;
};

/// What JobCard says, as numbers, and what the rows of the job add up to.
struct JobCodes {
    Code crew = 0, street = 0, roof = 0, system = 0, kind = 0, week = 0;
    bool vulnerable = false;
    Day day = 0;                      ///< of the first reading
    Day first_day = 0, last_day = 0;  ///< of its results
    std::uint32_t failed = 0;         ///< of its results
};

/// One result a row, those of a job together and in its order. Same columns, same length.
struct ResultColumns {
    static constexpr std::uint8_t failed = 1, inconclusive = 2, corrected = 4;

    std::vector<Code> check;
    std::vector<std::uint8_t> marks;  ///< of the three above
    std::vector<Code> outcome;
    std::vector<Day> day;
    std::vector<std::uint32_t> seconds;  ///< for one reading; 0 = unknown
};

/// One reading that stands and the instrument it was taken with.
struct UseColumns {
    std::vector<Code> check, place, instrument, text;
    std::vector<Day> day, calibrated;
    std::vector<std::uint8_t> evidence;  ///< 1 where it is evidence
};

/// What the columns count by: the texts behind the numbers.
struct ColumnNames {
    Names check, outcome, place, instrument, text;                   ///< of results and uses
    Names crew, street, roof, system, kind, week, material, batch;  ///< of jobs
};

/// Jobs with their results and uses. Kept up to date job by job; what `put` makes of a journal entry
/// by entry holds the same rows as one made at once of the whole.
class Columns {
public:
    Columns() = default;
    /// The rows of a table in its order of jobs.
    Columns(const AuditTable& table);  // NOLINT: a table and its columns are the same thing

    /// Puts the rows of one job in the place of those it had; jobs stand by number. A table without
    /// a job changes nothing. Only for columns that were made by `put`.
    void put(const AuditTable& of_one_job);
    void remove(std::string_view number);

    [[nodiscard]] std::size_t job_count() const { return rest_.jobs.size(); }
    [[nodiscard]] std::size_t result_count() const { return results_.check.size(); }
    [[nodiscard]] const JobCard& card(std::size_t job) const { return rest_.jobs[job]; }
    /// The job of that number; nullopt for a number that is not there.
    [[nodiscard]] std::optional<std::size_t> job_named(std::string_view number) const;
    [[nodiscard]] const JobCodes& codes(std::size_t job) const { return codes_[job]; }
    [[nodiscard]] RowRange results_of(std::size_t job) const { return {first_result_[job], first_result_[job + 1]}; }
    [[nodiscard]] RowRange uses_of(std::size_t job) const { return {first_use_[job], first_use_[job + 1]}; }
    /// The job a use belongs to.
    [[nodiscard]] std::size_t job_of_use(std::size_t use) const;
    /// Material and batch of the parts of a job.
    [[nodiscard]] const std::vector<std::pair<Code, Code>>& batches(std::size_t job) const { return batches_[job]; }
    [[nodiscard]] const ResultColumns& results() const { return results_; }
    [[nodiscard]] const UseColumns& uses() const { return uses_; }
    [[nodiscard]] const ColumnNames& names() const { return names_; }
    /// What is few and stays in rows: jobs, open, deferrals, gauges, traces, complaints. Results and uses are empty.
    [[nodiscard]] const AuditTable& rest() const { return rest_; }

    [[nodiscard]] bool failed(std::size_t row) const { return (results_.marks[row] & ResultColumns::failed) != 0; }
    [[nodiscard]] bool inconclusive(std::size_t row) const { return (results_.marks[row] & ResultColumns::inconclusive) != 0; }
    [[nodiscard]] const std::string& check(std::size_t row) const { return names_.check.text(results_.check[row]); }
    [[nodiscard]] CheckResult result(std::size_t job, std::size_t row) const;
    [[nodiscard]] InstrumentUse use(std::size_t job, std::size_t row) const;

    /// Jobs of which a result stays, or that have none and in which something waits; rows of results, uses, and what else belongs to a check, as asked.
    [[nodiscard]] Columns only(const std::function<bool(std::size_t job)>& keeps_job,
                               const std::function<bool(std::size_t job, std::size_t row)>& keeps_result,
                               const std::function<bool(std::size_t job, std::size_t use)>& keeps_use,
                               const std::function<bool(std::size_t job, const std::string& check)>& keeps_check) const;

    /// All of it as bytes, to be kept between two starts of the same program.
    [[nodiscard]] std::string kept() const;
    /// nullopt unless the whole of it is what `kept` made on such a machine.
    [[nodiscard]] static std::optional<Columns> read_kept(std::string_view bytes);

private:
    friend class KeptReader;
    struct Fresh;
    [[nodiscard]] Fresh coded(const AuditTable& table);
    /// Jobs without any result in which something waits that is asked for.
    [[nodiscard]] std::vector<bool> waiting_unread(const std::function<bool(std::size_t job, const std::string& check)>& keeps_check) const;
    void splice(std::size_t job, std::size_t jobs_before, Fresh fresh);

    ColumnNames names_;
    ResultColumns results_;
    UseColumns uses_;
    std::vector<std::size_t> first_result_{0}, first_use_{0};  ///< one more than there are jobs
    std::vector<JobCodes> codes_;
    std::vector<std::vector<std::pair<Code, Code>>> batches_;
    AuditTable rest_;
    bool by_number_ = true;  ///< jobs stand by number: those of a table stand as it has them
};

/// Back as rows, in the order of the columns.
[[nodiscard]] AuditTable table_of(const Columns& columns);

}  // namespace wm::audit
