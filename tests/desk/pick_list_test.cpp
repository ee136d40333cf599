#include "desk/pick_list.hpp"

#include <algorithm>

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

TEST_CASE("a job tells what the store puts together for it, what it comes from and what is still to be known") {
    Bench bench{testing::house_facts(testing::tools()), "kit"};
    const auto list = pick_list(bench.desk(), bench.job);
    REQUIRE_MESSAGE(list, (list ? "" : told(list.error())));
    CHECK(list->job == bench.job);
    const auto row = [&](const std::string& part) {
        const auto found = std::find_if(list->rows.begin(), list->rows.end(), [&](const PickRow& each) { return each.part == part; });
        REQUIRE_MESSAGE(found != list->rows.end(), part);
        return *found;
    };
    // The limits of the kit's own check and the list are one amount.
    const auto pipe = bench.check("kit-clips");
    REQUIRE(pipe.limits.low);
    CHECK(row("supports").amount == std::to_string(static_cast<int>(*pipe.limits.low)) + " pieces");
    CHECK(row("supports").check == "kit-clips");
    CHECK(row("supports").check_title == pipe.title);
    const auto supports = row("supports");
    CHECK(std::any_of(supports.how.begin(), supports.how.end(),
                      [](const std::string& line) { return line.starts_with("run of the hot loop pipe = "); }));
    // What the checks measure with is on the list, with what is registered.
    const auto wrench = std::find_if(list->instruments.begin(), list->instruments.end(),
                                     [](const PickInstrument& each) { return each.type == "torque wrench"; });
    REQUIRE(wrench != list->instruments.end());
    CHECK_FALSE(wrench->registered.empty());
    CHECK_FALSE(pick_list(bench.desk(), "J-none"));
}

TEST_CASE("an instrument past its day is told as such on the list") {
    Bench bench{testing::house_facts(testing::tools()), "kit"};
    bench.clock.pass_days(3 * 365);
    const auto list = pick_list(bench.desk(), bench.job);
    REQUIRE(list);
    const auto wrench = std::find_if(list->instruments.begin(), list->instruments.end(),
                                     [](const PickInstrument& each) { return each.type == "torque wrench"; });
    REQUIRE(wrench != list->instruments.end());
    CHECK(wrench->registered.front().find("OUT OF DATE") != std::string::npos);
}

}  // namespace wm::desk
