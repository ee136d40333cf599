#include "checklist/loader.hpp"

#include <doctest/doctest.h>

#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE("a published checklist is read whole, with its text for the pin") {
    const auto text = testing::published("commissioning.toml");
    const auto list = load_checklist(text, "commissioning.toml");
    REQUIRE(list);
    CHECK(list->name == "commissioning");
    CHECK(list->text == text);
    CHECK(list->checks.size() == 90);
    const auto* hold = list->find(CheckId{"test-hold"});
    REQUIRE(hold);
    CHECK(hold->kind == Kind::Series);
    CHECK(hold->severity == Severity::Damages);
    CHECK(hold->hold);
    CHECK(hold->series->extras.size() == 2);
    CHECK(hold->valid_when.size() == 5);
    CHECK(hold->judged_unit()->symbol == "kPa");
}

TEST_CASE("a checklist whose expressions cannot be meant is refused with line, column and carets") {
    auto text = testing::published("service.toml");
    const std::string from = "reading at most d.fpt_need_c";
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), "reading at most sys.relief_kpa");
    const auto list = load_checklist(text, "service.toml");
    REQUIRE(!list);
    CHECK(
        list.error().what.starts_with("the tolerance of \"svc-freeze-point\" compares a "
                                      "temperature with a pressure\n    tolerance = "));
    CHECK(list.error().where.starts_with("service.toml:"));
    CHECK(list.error().what_to_do == "Give it in a unit of temperature, for example 60 °C.");
}

TEST_CASE("a check with a fault is left out, and the fault is noted") {
    const auto loaded = read_checklist(
        "[checklist]\nname = \"x\"\ntitle = \"X\"\nversion = 1\ndate = 2026-11-25\nreason = "
        "\"r\"\n[[check]]\nid = \"a\"\n",
        "x.toml");
    CHECK(loaded.checklist.checks.empty());
    CHECK_FALSE(loaded.findings.empty());
}

}  // namespace wm::checklist
