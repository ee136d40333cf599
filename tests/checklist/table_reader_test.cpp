#include "checklist/table_reader.hpp"

#include <doctest/doctest.h>

#include <functional>
#include <string>

namespace wm::checklist {
namespace {

// What reading one key of a one-line table complains of.
std::string complaint(const std::string& text, const std::function<void(TableReader&)>& read) {
    const auto document = read_document(text, "t.toml");
    REQUIRE(document);
    Findings findings{text};
    TableReader reader{*document, "the table", findings};
    read(reader);
    reader.finish();
    const auto found = findings.taken();
    return found.empty() ? "" : found.front().what + " | " + found.front().what_to_do;
}

}  // namespace

TEST_CASE("each key is read as what it should be, or complained of") {
    CHECK(complaint("a = \"x\"", [](TableReader& r) { CHECK(r.needed_text("a") == "x"); }).empty());
    CHECK(complaint("", [](TableReader& r) { (void)r.needed_text("a"); }) ==
          "the table has no a | Add a = \"…\".");
    CHECK(complaint("a = \" \"", [](TableReader& r) { (void)r.needed_text("a"); }) ==
          "a of the table is empty | Write what a person has to read there.");
    CHECK(complaint("a = 1", [](TableReader& r) { (void)r.text("a"); }) ==
          "a of the table is a whole number, not a text in quotes | Write a as a text in quotes.");
    CHECK(complaint("a = -1", [](TableReader& r) { (void)r.whole("a"); }) ==
          "a of the table is -1 | Give a whole number from 0 to 1000000.");
    CHECK(complaint("a = \"2027-02-30\"", [](TableReader& r) { (void)r.day("a"); }) ==
          "a of the table is \"2027-02-30\", no day of the calendar | Write year, month and day, "
          "for example 2027-03-04.");
    CHECK(complaint("a = [1]", [](TableReader& r) { (void)r.texts("a"); }) ==
          "a of the table holds a whole number, not only texts | Put each item in quotes.");
    CHECK(complaint("a = \"smoots\"", [](TableReader& r) { (void)r.unit("a"); }) ==
          "a of the table is \"smoots\", which is not a unit this tool knows | Use a unit of the "
          "list in the guide, for example kPa, °C, mm or N·m.");
    CHECK(complaint("a = \"1 +\"", [](TableReader& r) { (void)r.expression("a"); }) ==
          "a of the table breaks off where a value is expected | Add a number with its unit, a "
          "fact or `reading`.");
    CHECK(complaint("a = { b = 1 }", [](TableReader& r) { (void)r.words_by_name("a"); }) ==
          "b of the table is a whole number, not a text | Write it in quotes, with its unit if it "
          "has one.");
}

TEST_CASE("a key that nobody asks for is named with the nearest one that means something") {
    CHECK(complaint("titel = \"x\"", [](TableReader& r) { (void)r.text("title"); }) ==
          "the table has a key \"titel\" that means nothing here | Did you mean title?");
}

}  // namespace wm::checklist
