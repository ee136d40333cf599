#include <doctest/doctest.h>

#include "checklist/lint.hpp"
#include "checklist/testing.hpp"

namespace wm::checklist {
namespace {

std::string first_told(const std::string& text) {
    const auto report = lint(text, "l.toml", Library{});
    return report.findings.empty() ? "" : report.findings.front().what;
}

std::string instrument(const std::string& uncertainty, const std::string& resolution) {
    return "[[instrument_type]]\nid = \"x\"\nunit = \"°C\"\nresolution = \"" + resolution +
           "\"\nuncertainty = \"" + uncertainty + "\"\n";
}

}  // namespace

TEST_CASE("uncertainties and resolutions of instruments must be in the unit of the instrument") {
    CHECK(first_told(instrument("1 K", "0.1 K")).empty());
    CHECK(first_told(instrument("1 kPa", "0.1 K")) ==
          "the uncertainty of \"x\" gives a pressure, but a temperature difference is wanted here");
    CHECK(first_told(instrument("0.1 * reading", "0.1 K")) ==
          "the uncertainty of \"x\" multiplies a temperature");
    CHECK(first_told(instrument("1 K", "0.1 mm")) == "the resolution of \"x\" is \"0.1 mm\"");
    CHECK(first_told(instrument("1 K", "0.1 K") + instrument("1 K", "0.1 K")) ==
          "the instrument type \"x\" is there twice");
}

TEST_CASE("settings and cautions are there once, with units and tails that exist") {
    const std::string setting =
        "[[setting]]\nname = \"s\"\nvalue = 1\nunit = \"smoot\"\nmeaning = \"m\"\n";
    CHECK(first_told(setting) ==
          "the setting \"s\" has the unit \"smoot\", which this tool does not know");
    const std::string caution =
        "[[caution]]\nid = \"C-X\"\ntitle = \"t\"\ntext = \"x\"\nrefer = true\n";
    CHECK(first_told(caution) == "the caution \"C-X\" refers to a tail that is not there");
    CHECK(first_told(caution + caution + "[tail]\ntext = \"t\"\n") ==
          "the caution \"C-X\" is there twice");
}

}  // namespace wm::checklist
