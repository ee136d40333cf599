#include "desk/library.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

TEST_CASE("the shipped checklists are read together") {
    const auto library = read_library(testing::shipped_texts());
    REQUIRE_MESSAGE(library, (library ? "" : told(library.error())));
    for (const char* name : {"survey", "kit", "commissioning", "service", "tutorial"}) {
        CAPTURE(name);
        CHECK((*library)->checklist_named(name) != nullptr);
    }
    CHECK((*library)->caution_named("C-SCALD") != nullptr);
    CHECK((*library)->type_named("torque wrench") != nullptr);
}

TEST_CASE("a missing or broken file refuses the whole library") {
    for (const char* name : {"cautions.toml", "instruments.toml"}) {
        auto texts = testing::shipped_texts();
        texts.erase(name);
        const auto library = read_library(texts);
        REQUIRE_FALSE(library);
        CHECK(library.error().what == "The file " + std::string{name} + " is missing.");
    }
    auto texts = testing::shipped_texts();
    // A file that is no checklist at all keeps nobody from their work.
    texts["notes.toml"] = "remember = \"gloves\"\n";
    CHECK(read_library(texts));
    texts["kit.toml"] = "name = \"kit\"\nversion = [\n";
    const auto broken = read_library(texts);
    REQUIRE_FALSE(broken);
    CHECK(broken.error().where.starts_with("kit.toml:"));
}

TEST_CASE("a pin gives back the texts it was made of, and changes with each of them") {
    const auto texts = testing::shipped_texts();
    const auto pin = pin_text(texts, "kit");
    REQUIRE(pin);
    const auto back = texts_of_pin(*pin);
    REQUIRE(back);
    REQUIRE(back->size() == 3);
    for (const char* name : {"kit.toml", "cautions.toml", "instruments.toml"}) CHECK(back->at(name) == texts.at(name));
    for (const char* name : {"kit.toml", "cautions.toml", "instruments.toml"}) {
        auto changed = texts;
        changed[name] += "#";
        CHECK(*pin_text(changed, "kit") != *pin);
    }
    auto other = texts;
    other["survey.toml"] += "#";
    CHECK(*pin_text(other, "kit") == *pin);
    CHECK_FALSE(pin_text(texts, "tune-up"));
}

TEST_CASE("a torn pin is refused") {
    const auto pin = pin_text(testing::shipped_texts(), "kit");
    REQUIRE(pin);
    for (const std::size_t keep : {std::size_t{1}, std::size_t{4}, std::size_t{20}, pin->size() / 2, pin->size() - 1}) {
        CAPTURE(keep);
        const auto torn = texts_of_pin(pin->substr(0, keep));
        REQUIRE_FALSE(torn);
        CHECK(torn.error().what == "A pinned checklist is torn.");
    }
    CHECK_FALSE(texts_of_pin("file kit.toml 99999999999999999999\nx\n"));
    CHECK_FALSE(texts_of_pin("file kit.toml 18446744073709551614\nx\n"));
}

}  // namespace wm::desk
