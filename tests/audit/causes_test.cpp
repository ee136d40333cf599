#include "audit/causes.hpp"

#include <doctest/doctest.h>

#include <set>

namespace wm::audit {

TEST_CASE("each cause has a word of its own and a meaning") {
    std::set<std::string_view> words;
    for (const auto& cause : causes()) {
        CHECK(words.insert(cause.word).second);
        CHECK(cause_named(cause.word) == &cause);
        CHECK_FALSE(cause.meaning.empty());
    }
    CHECK(words.contains("unknown"));
    CHECK(cause_named("haste") == nullptr);
}

}  // namespace wm::audit
