// The published content files under the linter.
#include <doctest/doctest.h>

#include <string>

#include "checklist/lint.hpp"
#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE("the linter finds nothing in the published content files, not even advice") {
    const auto library =
        testing::library_with({"survey.toml", "kit.toml", "commissioning.toml", "service.toml", "tutorial.toml"});
    for (const std::string file : {"cautions.toml", "instruments.toml", "parts.toml", "failures.toml", "survey.toml", "kit.toml",
                                   "commissioning.toml", "service.toml", "tutorial.toml"}) {
        const auto report = lint(testing::published(file), "checklists/" + file, library);
        std::string all;
        for (const auto& finding : report.findings)
            all += (finding.grade == Grade::Advice ? "advice: " : "") +
                   told(finding, "checklists/" + file) + "\n\n";
        INFO(all);
        CHECK(report.findings.empty());
    }
}

TEST_CASE("the published checklists hold 27, 12, 90 and 17 checks, 64 of them core on the day") {
    // Source: the counts the trade content was written to, and the checks added since.
    const auto library =
        testing::library_with({"survey.toml", "kit.toml", "commissioning.toml", "service.toml"});
    const auto count = [&](const std::string& file) {
        return lint(testing::published(file), file, library);
    };
    CHECK(count("survey.toml").checks == 27);
    CHECK(count("kit.toml").checks == 12);
    CHECK(count("commissioning.toml").checks == 90);
    CHECK(count("commissioning.toml").core == 64);
    CHECK(count("service.toml").checks == 17);
}

TEST_CASE("each check that a person reads or looks at says what often goes wrong, in two hundred letters at most") {
    const auto library = testing::library_with({"survey.toml", "kit.toml", "commissioning.toml", "service.toml"});
    for (const auto& list : library.checklists)
        for (const auto& check : list.checks) {
            CAPTURE(check.id.text);
            const bool by_hand = check.kind != Kind::Computed && check.kind != Kind::Signature;
            CHECK(check.pitfall.empty() != by_hand);
            CHECK(check.pitfall.size() <= 200);
            CHECK(check.pitfall != check.how);
        }
}

TEST_CASE("the tutorial asks for no instrument but a tape, and nothing in it waits for a clock") {
    const auto library = testing::library_with({"tutorial.toml"});
    REQUIRE(library.checklists.size() == 1);
    const auto& list = library.checklists.front();
    CHECK(list.checks.size() >= 6);
    for (const auto& check : list.checks) {
        CAPTURE(check.id.text);
        CHECK(check.instrument.value_or("tape") == "tape");
        CHECK(check.kind != Kind::Series);
    }
}

}  // namespace wm::checklist
