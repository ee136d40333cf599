#include "workout_mutants.hpp"

#include "audit/computations.hpp"

namespace wm::audit {

TEST_CASE(
    "every input of an audit computation is refused when it is missing, no number or of a wrong "
    "kind") {
    testing::check_refusals(audit_computations());
}

TEST_CASE("no spoilt question makes an audit computation crash or answer without a number") {
    // WM_FUZZ_RUNS sets the number; the soak runs a million.
    testing::check_mutants(audit_computations(), testing::fuzz_runs(7000), 20261125);
}

}  // namespace wm::audit
