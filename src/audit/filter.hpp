// Looking at a part of the jobs: one crew, one roof, one batch, and the like.
#pragma once

#include <string>
#include <vector>

#include "audit/columns.hpp"

namespace wm::audit {

/// What is named must be so in each row that is kept; what is empty does not matter. A batch goes by
/// its name alone or with its material before it.
struct Filter {
    std::string crew{}, check{}, roof{}, kind{}, batch{}, instrument{}, street{};

    [[nodiscard]] bool is_empty() const { return *this == Filter{}; }
    friend bool operator==(const Filter&, const Filter&) = default;
};

/// The jobs, results, uses and other rows that fit. With an instrument: the results it was used for.
/// Jobs without any result that fits are left out.
[[nodiscard]] Columns filtered(const Columns& all, const Filter& filter);

/// What a filter may name, each sorted, none empty.
struct FilterChoices {
    std::vector<std::string> crews, checks, roofs, kinds, batches, instruments, streets;
};
[[nodiscard]] FilterChoices choices_of(const Columns& columns);

/// The part of the filter that nothing in the columns fits, "crew Pellish"; empty if each is known.
[[nodiscard]] std::string unknown_in(const Columns& columns, const Filter& filter);

}  // namespace wm::audit
