#include "workout_mutants.hpp"

#include "plant/workout.hpp"

namespace wm::plant {

TEST_CASE(
    "every input of a plant computation is refused when it is missing, no number or of a wrong "
    "kind") {
    testing::check_refusals(plant_computations());
}

TEST_CASE("no spoilt question makes a plant computation crash or answer without a number") {
    // WM_FUZZ_RUNS sets the number; the soak runs a million.
    testing::check_mutants(plant_computations(), testing::fuzz_runs(7000), 20261125);
}

}  // namespace wm::plant
