// Two versions beside each other.
#include "checklist/differences.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

using namespace wm::checklist;

namespace {

const std::string list = R"([checklist]
name = "small"
version = 3
date = 2026-11-01
reason = "first"

[[check]]
id = "bolt"
stage = "A"
title = "Bolts tight"
tolerance = "reading at least 18 N·m"
core = true
accept = ["yes", "sure"]

[[check.part]]
name = "washer"
question = "Is it there?"

[[check.example]]
reading = "20 N·m"
outcome = "conforms"

[[check]]
id = "hose"
title = "Hose whole"
)";

std::string with(std::string text, const std::string& was, const std::string& is) {
    const auto at = text.find(was);
    REQUIRE(at != std::string::npos);
    return text.replace(at, was.size(), is);
}

std::vector<Difference> found(const std::string& after) { return differences(list, after, "small.toml").value(); }

}  // namespace

TEST_CASE("the same text has no differences, and version, day and reason are none") {
    CHECK(found(list).empty());
    CHECK(found(with(with(list, "version = 3", "version = 4"), "\"first\"", "\"second\"")).empty());
    CHECK(found("# a word to the reader\n" + list).empty());
}

TEST_CASE("a changed value is told with both, and whether an outcome depends on it") {
    CHECK(found(with(list, "18 N·m", "19 N·m")) ==
          std::vector<Difference>{{"bolt", "tolerance", "Tolerance: was “reading at least 18 N·m”, is “reading at least 19 N·m”.", true}});
    CHECK(found(with(list, "Bolts tight", "All bolts tight")) == std::vector<Difference>{{"bolt", "title", "Title: was “Bolts tight”, is “All bolts tight”.", false}});
    CHECK(found(with(list, "core = true\n", "")) == std::vector<Difference>{{"bolt", "core", "In the fast run: taken out, was yes.", true}});
    CHECK(found(with(list, "core = true", "core = true\nhold = true")) == std::vector<Difference>{{"bolt", "hold", "Hold point: new, yes.", true}});
    CHECK(found(with(list, "\"sure\"", "\"surely\"")) ==
          std::vector<Difference>{{"bolt", "accept", "Accepted answers: was “yes”, “sure”, is “yes”, “surely”.", true}});
    CHECK(found(with(list, "name = \"small\"", "name = \"smaller\"")) ==
          std::vector<Difference>{{"", "name", "Checklist, name: was “small”, is “smaller”.", true}});
}

TEST_CASE("parts are told apart by name, and an example decides nothing") {
    CHECK(found(with(list, "Is it there?", "Is it there, and flat?")) ==
          std::vector<Difference>{{"bolt", "part", "Part “washer”, question: was “Is it there?”, is “Is it there, and flat?”.", false}});
    CHECK(found(with(list, "\"washer\"", "\"nut\"")) ==
          std::vector<Difference>{{"bolt", "part", "Part “nut”: new.", true}, {"bolt", "part", "Part “washer”: taken out.", true}});
    CHECK(found(with(list, "20 N·m", "21 N·m")) == std::vector<Difference>{{"bolt", "example", "Example “1”, reading: was “20 N·m”, is “21 N·m”.", false}});
}

TEST_CASE("checks that come, go and change places") {
    const std::string more = list + "\n[[check]]\nid = \"clip\"\ntitle = \"Clips\"\n";
    CHECK(found(more) == std::vector<Difference>{{"clip", "", "New check: Clips.", true}});
    CHECK(differences(more, list, "small.toml").value() == std::vector<Difference>{{"clip", "", "Taken out: Clips.", true}});
    const auto hose = list.find("[[check]]\nid = \"hose\"");
    const auto bolt = list.find("[[check]]\nid = \"bolt\"");
    const std::string turned = list.substr(0, bolt) + list.substr(hose) + "\n" + list.substr(bolt, hose - bolt);
    CHECK(found(turned) == std::vector<Difference>{{"", "", "The checks stand in another order.", false}});
}

TEST_CASE("what is no TOML is refused with its place") {
    const auto refused = differences(list, list + "broken", "small.toml");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().where.starts_with("small.toml:"));
}

TEST_CASE("every check of the shipped list that is left out is told, and nothing besides") {
    std::ifstream file{"checklists/commissioning.toml"};
    const std::string whole{std::istreambuf_iterator<char>{file}, {}};
    REQUIRE_FALSE(whole.empty());
    CHECK(differences(whole, whole, "c").value().empty());
}
