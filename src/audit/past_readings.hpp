// Every reading that still counts, with what it was read with and how it was judged: to be judged again by a changed list.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "audit/columns.hpp"
#include "audit/names.hpp"
#include "measure/outcome.hpp"

namespace wm::audit {

/// One reading as it was taken.
struct PastReading {
    std::string check, place, text;
    std::string day;             ///< on which it was read; empty = unknown
    std::string instrument;      ///< its card in one text; empty = none
    bool photo = false;
    measure::Outcome was = measure::Outcome::Open;  ///< of its place
    std::string entry;           ///< hash
    friend bool operator==(const PastReading&, const PastReading&) = default;
};

/// The readings of one job with what is known of its house.
struct PastJob {
    std::string job, checklist, pin;
    std::string made_after;  ///< hash of the entry these rows were made after; empty = not to be relied on
    bool practice = false;
    std::vector<std::pair<std::string, std::string>> facts;  ///< key and value as entered
    std::vector<PastReading> readings;
    friend bool operator==(const PastJob&, const PastJob&) = default;
};

/// All jobs by number, their readings as columns: one row a reading, texts as numbers.
class PastReadings {
public:
    /// The same with these jobs in place of what they had.
    [[nodiscard]] PastReadings with(const std::map<std::string, PastJob>& fresh) &&;

    [[nodiscard]] std::size_t job_count() const { return jobs_.size(); }
    [[nodiscard]] std::size_t reading_count() const { return check_.size(); }
    [[nodiscard]] RowRange readings_of(std::size_t job) const { return {first_[job], first_[job + 1]}; }

    /// Of a job.
    [[nodiscard]] const std::string& number(std::size_t job) const { return jobs_[job].number; }
    [[nodiscard]] const std::string& made_after(std::size_t job) const { return jobs_[job].made_after; }
    [[nodiscard]] const std::string& checklist(std::size_t job) const { return texts_.text(jobs_[job].checklist); }
    [[nodiscard]] const std::string& pin(std::size_t job) const { return texts_.text(jobs_[job].pin); }
    [[nodiscard]] bool practice(std::size_t job) const { return jobs_[job].practice; }
    /// Key and value as numbers of texts().
    [[nodiscard]] const std::vector<std::pair<Code, Code>>& facts(std::size_t job) const { return jobs_[job].facts; }

    /// Of a reading: its check as a number of checks(), its instrument as one of texts().
    [[nodiscard]] Code check(std::size_t row) const { return check_[row]; }
    [[nodiscard]] const std::string& place(std::size_t row) const { return texts_.text(place_[row]); }
    [[nodiscard]] const std::string& text(std::size_t row) const { return texts_.text(text_[row]); }
    [[nodiscard]] Code instrument(std::size_t row) const { return instrument_[row]; }
    [[nodiscard]] Day day(std::size_t row) const { return day_[row]; }
    [[nodiscard]] bool photo(std::size_t row) const { return (marks_[row] & with_photo) != 0; }
    [[nodiscard]] measure::Outcome was(std::size_t row) const { return static_cast<measure::Outcome>(marks_[row] & outcome_bits); }

    [[nodiscard]] const Names& checks() const { return checks_; }
    [[nodiscard]] const Names& texts() const { return texts_; }

    /// As it was put; without hashes where they are not there.
    [[nodiscard]] PastJob job(std::size_t job) const;

    /// All of it as bytes, to be kept between two starts of the same program; hashes of entries apart,
    /// since few of them are ever asked for.
    [[nodiscard]] std::string kept() const;
    [[nodiscard]] const std::string& kept_entries() const { return entries_; }
    /// nullopt unless the whole of it is what `kept` made on such a machine. Without its entries it can
    /// be asked, not added to.
    [[nodiscard]] static std::optional<PastReadings> read_kept(std::string_view bytes);
    /// False, and nothing taken, unless there is one for each reading.
    [[nodiscard]] bool take_entries(std::string entries);
    [[nodiscard]] bool has_entries() const { return entries_.size() == check_.size() * hash_bytes; }
    /// Hash of the entry of a reading, once they are there; "" before.
    [[nodiscard]] std::string entry(std::size_t row) const;

private:
    static constexpr std::size_t hash_bytes = 32;
    static constexpr std::uint8_t outcome_bits = 0x0F, with_photo = 0x10;
    struct Job {
        std::string number, made_after;
        Code checklist = 0, pin = 0;
        bool practice = false;
        std::vector<std::pair<Code, Code>> facts;
    };
    void add(const PastJob& job);
    void add(const PastReadings& other, std::size_t job);

    Names checks_, texts_;
    std::vector<Job> jobs_;
    std::vector<std::size_t> first_{0};
    std::vector<Code> check_, place_, text_, instrument_;
    std::vector<Day> day_;
    std::vector<std::uint8_t> marks_;
    std::string entries_;
};

}  // namespace wm::audit
