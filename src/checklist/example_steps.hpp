// How much work judging an example is, reckoned before it is done.
#pragma once

#include <cstddef>
#include <set>
#include <string>

#include "checklist/model.hpp"

namespace wm::checklist {

/// What the linter spends on all examples of a file. The largest file shipped takes fewer than
/// 20,000 steps, so a file with four times as much is still judged to its end; a step is a node
/// of a tolerance worked out, less than half a microsecond.
inline constexpr std::size_t most_example_steps = 80'000;

/// What the examples of one check take. An estimate by counting, never by judging: the text of one
/// example may hold a hundred thousand readings.
class ExampleSteps {
public:
    ExampleSteps(const Check& check, const Library& library);

    /// `example_facts`: how many facts the file gives to all its examples.
    [[nodiscard]] std::size_t of(const Example& example, std::size_t example_facts) const;

private:
    void count(const Expression& expression, std::set<std::string>& derived);

    const Check& check_;
    std::size_t nodes_ = 0;       ///< of all expressions of the check
    std::size_t each_point_ = 0;  ///< those of them that are worked out at each point of a series
    std::size_t derived_ = 0;     ///< different derived values that are named
    std::size_t asked_ = 0;       ///< looks at another check, each past all checks of the library
    std::size_t words_ = 0;       ///< places, parts and answers that a reading is looked up among
};

}  // namespace wm::checklist
