#include "post/retry.hpp"

#include <doctest/doctest.h>

namespace wm::post {

TEST_CASE("waiting doubles from a minute to four hours and never shrinks") {
    CHECK(wait_after(1, 0.0) == 60);
    CHECK(wait_after(2, 0.0) == 120);
    CHECK(wait_after(100, 0.0) == 4 * 3600);
    for (int n = 1; n < 40; ++n) {
        CHECK(wait_after(n, 0.0) <= wait_after(n + 1, 0.0));
        CHECK(wait_after(n, 0.999) < wait_after(n, 0.0) * 11 / 10 + 1);
    }
}

TEST_CASE("the states have the words of the command line") {
    CHECK(in_words(PostState::Waiting) == "waiting");
    CHECK(in_words(PostState::Sent) == "sent");
    CHECK(in_words(PostState::Refused) == "refused");
    CHECK(in_words(PostState::CannotSend) == "cannot send");
}

}  // namespace wm::post
