#include "audit/causes.hpp"

#include <algorithm>
#include <array>

namespace wm::audit {

namespace {

// Common practice, no source: what stands behind most repeated failures of a visit.
constexpr std::array<Cause, 8> list = {{{"skill", "nobody showed how it is done"},
                                        {"instruction", "the instruction or the check is unclear"},
                                        {"tool", "a tool or instrument is missing, wrong or drifts"},
                                        {"material", "a part, a batch or a fluid is not as it should be"},
                                        {"time", "there was too little time or a wrong order"},
                                        {"place", "the house or the weather did not allow it"},
                                        {"design", "the set does not fit the house"},
                                        {"unknown", "not found yet"}}};

}  // namespace

std::span<const Cause> causes() { return list; }

const Cause* cause_named(std::string_view word) {
    const auto found = std::find_if(list.begin(), list.end(), [&](const Cause& cause) { return cause.word == word; });
    return found == list.end() ? nullptr : &*found;
}

}  // namespace wm::audit
