#include "workout_mutants.hpp"

#include "measure/computations.hpp"

namespace wm::measure {

TEST_CASE(
    "every input of a measure computation is refused when it is missing, no number or of a wrong "
    "kind") {
    testing::check_refusals(measure_computations());
}

TEST_CASE("no spoilt question makes a measure computation crash or answer without a number") {
    // WM_FUZZ_RUNS sets the number; the soak runs a million.
    testing::check_mutants(measure_computations(), testing::fuzz_runs(7000), 20261125);
}

}  // namespace wm::measure
