#include "checklist/loader_library.hpp"

#include <doctest/doctest.h>

#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE("the published library knows its cautions, instruments, sources and settings") {
    const auto library = testing::library_with();
    REQUIRE(library.caution_named("C-HEIGHT"));
    CHECK(library.caution_named("C-HEIGHT")->refer);
    CHECK_FALSE(library.caution_tail.empty());
    REQUIRE(library.type_named("torque wrench"));
    CHECK(library.type_named("torque wrench")->calibrated);
    CHECK(library.setting_named("frost_margin")->value == 5);
    CHECK(library.source_marked("S17") != nullptr);
    CHECK(source_in_words(library, "CP") == "common practice, no source");
    CHECK(library.instruments_text == testing::published("instruments.toml"));
}

TEST_CASE("a library file with a fault is refused with its place") {
    Library library;
    const auto none = load_instruments(library,
                                       "[[instrument_type]]\nid = \"x\"\nunit = "
                                       "\"furlong\"\nresolution = \"1\"\nuncertainty = \"1\"\n",
                                       "i.toml");
    REQUIRE(!none);
    CHECK(none.error().what ==
          "unit of instrument type \"x\" is \"furlong\", which is not a unit this tool knows");
    CHECK(none.error().where == "i.toml:3:8");
    const auto caution = load_cautions(library, "[[caution]]\nid = \"C-X\"\n", "c.toml");
    REQUIRE(!caution);
    CHECK(caution.error().what == "caution \"C-X\" has no title");
}

}  // namespace wm::checklist
