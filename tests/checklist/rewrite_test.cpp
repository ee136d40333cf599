// One value set otherwise.
#include "checklist/rewrite.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

#include "checklist/differences.hpp"
#include "checklist/document.hpp"

using namespace wm::checklist;

namespace {

const std::string list = R"([checklist]
name = "small" # of a size
version = 3

# Bolts hold it.
[[check]]
id = "bolt"   # never renamed
tolerance = "reading at least 18 N·m" # the maker's
places = ["a",  # the first
  "b]"]
plausible = [0, 60]
core = true
how = """
Two words
and "more"."""

[[check.part]]
name = "washer"
tolerance = "reading above 1 mm"

# Hoses carry it.
[[check]]
id = "hose"
core = false
)";

std::string set(const std::string& check, const std::string& key, const std::string& value) {
    const auto changed = with_value(list, "small.toml", {check, key}, value);
    return changed ? *changed : "refused: " + changed.error().what;
}

/// The list with one piece of its text in another's place.
std::string with(const std::string& was, const std::string& is) {
    std::string text = list;
    return text.replace(text.find(was), was.size(), is);
}

}  // namespace

TEST_CASE("a value is set otherwise and its neighbours and comments stay byte by byte") {
    CHECK(set("bolt", "tolerance", quoted("reading at least 19 N·m")) == with("\"reading at least 18 N·m\"", "\"reading at least 19 N·m\""));
    CHECK(set("bolt", "core", "false") == with("core = true", "core = false"));
    CHECK(set("bolt", "plausible", "[1, 2]") == with("[0, 60]", "[1, 2]"));
    CHECK(set("bolt", "places", "[\"a\"]") == with("[\"a\",  # the first\n  \"b]\"]", "[\"a\"]"));
    CHECK(set("bolt", "how", quoted("Look.")) == with("\"\"\"\nTwo words\nand \"more\".\"\"\"", "\"Look.\""));
    CHECK(set("hose", "core", "true") == with("core = false", "core = true"));
    CHECK(set("", "version", "4") == with("version = 3", "version = 4"));
}

TEST_CASE("a key that is not there is put below the id, in the head below the name") {
    CHECK(set("hose", "hold", "true") == with("id = \"hose\"\n", "id = \"hose\"\nhold = true\n"));
    CHECK(set("bolt", "hold", "true") == with("# never renamed\n", "# never renamed\nhold = true\n"));
    CHECK(set("", "reason", "\"why\"") == with("# of a size\n", "# of a size\nreason = \"why\"\n"));
}

TEST_CASE("what is quoted comes back as it was") {
    for (const std::string text : {"plain", "with \"quotes\" and \\", "two\nlines\tand a tab", "ümlaut °C \x01"}) {
        const auto changed = with_value(list, "small.toml", {"bolt", "tolerance"}, quoted(text));
        REQUIRE(changed);
        const auto read = read_document(*changed, "small.toml").value();
        CHECK(read.find("check")->items[0].find("tolerance")->text == text);
    }
}

TEST_CASE("a value that is none, or reaches further than its place, is refused") {
    CHECK(set("bolt", "core", "perhaps").starts_with("refused: "));
    CHECK(set("bolt", "core", "true\nhold = true").starts_with("refused: "));
    CHECK(set("bolt", "core", "false\n[[check]]\nid = \"smuggled\"").starts_with("refused: "));
    CHECK(set("nut", "core", "true") == "refused: There is no check nut in the text.");
    CHECK_FALSE(with_value("broken", "small.toml", {"bolt", "core"}, "true"));
}

TEST_CASE("the lines of a check are its own and those of its parts") {
    const auto lines = lines_of_check(list, "bolt");
    CHECK(lines.starts_with("[[check]]\nid = \"bolt\""));
    CHECK(lines.find("reading above 1 mm") != std::string_view::npos);
    CHECK(lines.find("hose") == std::string_view::npos);
    CHECK(lines_of_check(list, "hose").ends_with("core = false\n"));
    CHECK(lines_of_check(list, "nut").empty());
    // Half written, it is found all the same.
    CHECK(lines_of_check(list + "[[broken", "bolt") == lines);
    CHECK(lines_of_check("[[check]]\n  id   =\"a\"\ntitle = \"unclosed", "a") == "[[check]]\n  id   =\"a\"\ntitle = \"unclosed");
}

TEST_CASE("each text of each check of the shipped lists can be set, and the text is otherwise untouched") {
    for (const std::string name : {"commissioning", "tutorial"}) {
        CAPTURE(name);
        std::ifstream file{"checklists/" + name + ".toml"};
        const std::string whole{std::istreambuf_iterator<char>{file}, {}};
        const auto document = read_document(whole, name).value();
        std::size_t set_ones = 0;
        for (const auto& check : document.find("check")->items) {
            // The whole text is read anew four times for each value: of the long list two checks are enough.
            if (++set_ones % (name == "tutorial" ? 2 : 60) != 1) continue;
            for (const auto& [key, value] : check.entries) {
                if (value.type != ItemType::Text || key == "id") continue;
                CAPTURE(key);
                const auto changed = with_value(whole, name, {check.find("id")->text, key}, quoted("another"));
                REQUIRE(changed);
                // And back again.
                const auto back = with_value(*changed, name, {check.find("id")->text, key}, quoted(value.text));
                REQUIRE(back);
                CHECK(differences(whole, *back, name).value().empty());
            }
        }
        CHECK(set_ones > 0);
    }
}
