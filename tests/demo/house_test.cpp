#include "demo/house.hpp"

#include <doctest/doctest.h>

#include "checklist/facts.hpp"
#include "demo/one_job.hpp"

namespace wm::demo {

TEST_CASE("the facts of every kind of house load without a problem or a question") {
    House house = demo_house();
    for (const bool direct : {false, true})
        for (const char* covering : {"clay-tile", "metal-sheet", "flat-concrete", "slate"}) {
            CAPTURE(direct);
            CAPTURE(covering);
            house.direct = direct;
            house.frost_class = direct ? "none" : "regular";
            house.t_min_c = direct ? 2.0 : -13.0;
            house.covering = covering;
            house.slab = std::string{covering} == "flat-concrete";
            house.mount = house.slab ? "drilled" : std::string{covering} == "metal-sheet" ? "seam clamp" : "roof hook";
            for (const auto& crew : demo_crews()) {
                const auto file = checklist::load_facts(facts_text(house, crew), "demo facts");
                REQUIRE_MESSAGE(file, (file ? "" : told(file.error())));
                CHECK(file->questions.empty());
                CHECK(file->instruments.size() == 11);
            }
        }
}

TEST_CASE("six crews have instruments of their own") {
    const auto crews = demo_crews();
    REQUIRE(crews.size() == 6);
    for (std::size_t a = 0; a < crews.size(); ++a)
        for (std::size_t b = a + 1; b < crews.size(); ++b) {
            CHECK(crews[a].torque != crews[b].torque);
            CHECK(crews[a].lead != crews[b].lead);
        }
}

}  // namespace wm::demo
