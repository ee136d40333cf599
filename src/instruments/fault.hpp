// What stood between a question and its answer, and whether asking once more makes sense.
#pragma once

#include <string>
#include <tl/expected.hpp>

#include "problem/problem.hpp"

namespace wm::instruments {

enum class Again {
    Yes,  ///< silence, a disturbed or half answer: the next one may be whole
    No,   ///< it is gone, or it said no in words
};

struct Fault {
    Problem problem;
    Again again = Again::No;
};

template <class T>
using Answer = tl::expected<T, Fault>;

/// Kind Unreadable. `where` is the instrument and its port.
[[nodiscard]] inline tl::unexpected<Fault> no_answer(std::string what, std::string where, std::string what_to_do, Again again) {
    return tl::unexpected(Fault{{std::move(what), std::move(where), std::move(what_to_do), ProblemKind::Unreadable}, again});
}

/// One question and what came back, byte for byte as they went over the wire.
struct Exchange {
    std::string sent;
    std::string received;
};

}  // namespace wm::instruments
