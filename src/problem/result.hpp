// A value, or the problem that stood in its way.
#pragma once

#include <tl/expected.hpp>
#include <utility>

#include "problem/problem.hpp"

namespace wm {

template <class T>
using Result = tl::expected<T, Problem>;

/// For `return refused({...});`.
[[nodiscard]] inline tl::unexpected<Problem> refused(Problem problem) {
    return tl::unexpected<Problem>(std::move(problem));
}

}  // namespace wm
