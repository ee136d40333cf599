// The published content files under the linter.
#include <doctest/doctest.h>

#include <string>

#include "checklist/lint.hpp"
#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE("the linter finds nothing in the published content files, not even advice") {
    const auto library =
        testing::library_with({"survey.toml", "kit.toml", "commissioning.toml", "service.toml"});
    for (const std::string file : {"cautions.toml", "instruments.toml", "survey.toml", "kit.toml",
                                   "commissioning.toml", "service.toml"}) {
        const auto report = lint(testing::published(file), "checklists/" + file, library);
        std::string all;
        for (const auto& finding : report.findings)
            all += (finding.grade == Grade::Advice ? "advice: " : "") +
                   told(finding, "checklists/" + file) + "\n\n";
        INFO(all);
        CHECK(report.findings.empty());
    }
}

TEST_CASE("the published checklists hold 27, 12, 89 and 17 checks, 64 of them core on the day") {
    // Source: the counts the trade content was written to, and the checks added since.
    const auto library =
        testing::library_with({"survey.toml", "kit.toml", "commissioning.toml", "service.toml"});
    const auto count = [&](const std::string& file) {
        return lint(testing::published(file), file, library);
    };
    CHECK(count("survey.toml").checks == 27);
    CHECK(count("kit.toml").checks == 12);
    CHECK(count("commissioning.toml").checks == 89);
    CHECK(count("commissioning.toml").core == 64);
    CHECK(count("service.toml").checks == 17);
}

}  // namespace wm::checklist
