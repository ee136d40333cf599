#include "figures/axis.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace wm::figures;

TEST_CASE("ticks are round, lie within the span and are never too many") {
    for (const Span span :
         {Span{0, 1}, Span{-15, -9}, Span{470, 480}, Span{0.001, 0.0013}, Span{-1e6, 3e6}}) {
        for (const int most : {2, 5, 9}) {
            CAPTURE(span.low);
            CAPTURE(most);
            const auto ticks = round_ticks(span, most);
            CHECK(static_cast<int>(ticks.size()) <= most);
            for (const double tick : ticks) {
                CHECK(tick >= span.low - 1e-9 * (span.high - span.low));
                CHECK(tick <= span.high + 1e-9 * (span.high - span.low));
            }
        }
    }
    CHECK(round_ticks({0, 10}, 6) == std::vector<double>{0, 2, 4, 6, 8, 10});
}

TEST_CASE("a tick is written with the decimals of its spacing and without a negative zero") {
    CHECK(tick_text(480, 2.5) == "480.0");
    CHECK(tick_text(480, 10) == "480");
    CHECK(tick_text(-0.0, 5) == "0");
    CHECK(tick_text(0.25, 0.25) == "0.25");
}

TEST_CASE("values that are no numbers do not widen a span") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(span_of({1, nan, 3}) == Span{1, 3});
    CHECK(span_of({}) == Span{0, 1});
    CHECK(span_of({5}).low < 5);
    CHECK(span_of({5}).high > 5);
}
