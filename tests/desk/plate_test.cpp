#include "desk/plate.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

TEST_CASE("the same serial number at another house is found, and not that of the same house") {
    Bench bench{house_facts("serial.tank = \"ST-0417\"\n" + tools()), "kit"};
    const auto later = bench.desk().carry_out(OpenJob{"commissioning", "", "facts.toml", bench.job, false});
    REQUIRE(later);
    const auto other = bench.desk().carry_out(OpenJob{"kit", house_facts("serial.tank = \"ST-0417\"\n" + tools()), "facts.toml", "", false});
    REQUIRE(other);
    const auto trial = bench.desk().carry_out(OpenJob{"kit", house_facts("serial.tank = \"ST-0417\"\n" + tools()), "facts.toml", "", true});
    REQUIRE(trial);
    CHECK(same_serial_elsewhere(bench.desk(), {bench.job, "serial.tank", "ST-0417"}).value() == std::vector<std::string>{*other});
    CHECK(same_serial_elsewhere(bench.desk(), {*other, "serial.tank", "ST-0417"}).value() == std::vector<std::string>{bench.job, *later});
    CHECK(same_serial_elsewhere(bench.desk(), {bench.job, "serial.tank", "ST-0418"}).value().empty());
    CHECK(same_serial_elsewhere(bench.desk(), {bench.job, "serial.collector", "ST-0417"}).value().empty());
}

TEST_CASE("an article is one of those wanted with or without the zeros before it, and a model in any capitals") {
    // 13 digits of a package are 14 with a zero before them. Source: GS1 General Specifications, section 1 (from memory).
    CHECK(is_wanted_article({"09506000134352"}, "9506000134352"));
    CHECK(is_wanted_article({"9506000134352"}, "09506000134352"));
    CHECK(is_wanted_article({"TK 150", "TK 151"}, " tk 151 "));
    CHECK(is_wanted_article({}, "anything"));
    CHECK_FALSE(is_wanted_article({"09506000134352"}, "09506000134369"));
    CHECK_FALSE(is_wanted_article({"TK 150"}, "TK 1500"));
    // A zero inside a model is no filling.
    CHECK_FALSE(is_wanted_article({"TK 015"}, "TK 15"));
}

}  // namespace wm::desk
