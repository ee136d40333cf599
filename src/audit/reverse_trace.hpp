// What hangs on an instrument or on a batch of parts: from the cause back to the readings and houses.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "audit/columns.hpp"

namespace wm::audit {

/// Readings of an instrument on these days, both included.
struct InstrumentDays {
    std::string instrument;
    std::string from;   ///< empty = from the first reading on, whatever the calibration
    std::string until;  ///< empty = until it was calibrated again after `from`
};

/// One job that has a batch.
struct BatchUse {
    std::size_t job = 0;  ///< of the columns
    std::string_view material;
};

/// Where each instrument and each batch was used. The columns must outlive it.
class ReverseIndex {
public:
    explicit ReverseIndex(const Columns& columns) : columns_{columns} {}
    explicit ReverseIndex(Columns&&) = delete;

    /// Every instrument that was ever read, sorted.
    [[nodiscard]] std::vector<std::string> instruments() const;
    /// "relief valve RV-K17", "fluid PGC-0777": material and batch, sorted.
    [[nodiscard]] std::vector<std::string> batches() const;

    /// Rows of UseColumns, by day and then in their order. Empty for an
    /// instrument that nobody read.
    [[nodiscard]] std::vector<std::size_t> uses_of(const InstrumentDays& asked) const;
    /// Jobs with that batch, by day; the name is the batch alone or with its material before it.
    [[nodiscard]] std::vector<BatchUse> jobs_with(std::string_view batch) const;

private:
    const Columns& columns_;
};

}  // namespace wm::audit
