// What hangs on an instrument or on a batch of parts: from the cause back to the readings and houses.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "audit/results.hpp"

namespace wm::audit {

/// Readings of an instrument on these days, both included.
struct InstrumentDays {
    std::string instrument;
    std::string from;   ///< empty = from the first reading on, whatever the calibration
    std::string until;  ///< empty = until it was calibrated again after `from`
};

/// One check of one job that the batch stands behind.
struct BatchUse {
    std::size_t job = 0;  ///< index into AuditTable::jobs
    std::string_view material;
};

/// Where each instrument and each batch was used, made once of a table and asked often: an answer
/// looks only at the uses of that one instrument or batch. The table must outlive it.
class ReverseIndex {
public:
    explicit ReverseIndex(const AuditTable& table);

    /// Every instrument that was ever read, sorted.
    [[nodiscard]] std::vector<std::string> instruments() const;
    /// "relief valve RV-K17", "fluid PGC-0777": material and batch, sorted.
    [[nodiscard]] std::vector<std::string> batches() const;

    /// Indexes into AuditTable::uses, by day and then in the order of the table. Empty for an
    /// instrument that nobody read.
    [[nodiscard]] std::vector<std::size_t> uses_of(const InstrumentDays& asked) const;
    /// Jobs with that batch, by day; the name is the batch alone or with its material before it.
    [[nodiscard]] std::vector<BatchUse> jobs_with(std::string_view batch) const;

private:
    const AuditTable& table_;
    std::map<std::string_view, std::vector<std::uint32_t>> uses_;  ///< by day
    std::map<std::string_view, std::map<std::string_view, std::vector<std::uint32_t>>> jobs_;  ///< batch, material
};

}  // namespace wm::audit
