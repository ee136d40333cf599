#include "checklist/document.hpp"

#include <doctest/doctest.h>

#include <string>

namespace wm::checklist {

TEST_CASE("a document keeps the order, the places and the kinds of its values") {
    const auto document = read_document(
        "b = 1.5\na = \"text\"\n[t]\nyes = true\nday = 2027-03-04\nlist = [1, 2]\nt.u.v = 3\n",
        "d.toml");
    REQUIRE(document);
    CHECK(document->entries[0].first == "b");
    CHECK(document->entries[0].second.type == ItemType::Number);
    CHECK(document->entries[0].second.text == "1.5");
    CHECK(document->entries[1].second.at == Position{2, 5});
    const auto* table = document->find("t");
    REQUIRE(table);
    CHECK(table->find("yes")->text == "yes");
    CHECK(table->find("day")->text == "2027-03-04");
    CHECK(table->find("list")->items.size() == 2);
    CHECK(table->find("t")->find("u")->find("v")->number == 3);
    CHECK(table->find("other") == nullptr);
}

TEST_CASE("a column counts characters, not bytes") {
    const auto document = read_document("\"größe\" = 3\n", "d.toml");
    REQUIRE(document);
    CHECK(document->entries[0].second.at == Position{1, 11});
}

TEST_CASE("texts that are no document are refused with their place") {
    struct Row {
        std::string text, where;
    };
    for (const Row& row :
         {Row{"a = \n", "d.toml:1:"}, Row{"a = 1\na = 2\n", "d.toml:2:"}, Row{"[=]\n", "d.toml"},
          Row{"a = \"x\n", "d.toml:1:"}, Row{std::string(2'000'001, ' '), "d.toml"},
          Row{"a" + std::string(500, '.') + " = 1", "d.toml:1:102"}}) {
        const auto document = read_document(row.text, "d.toml");
        REQUIRE(!document);
        CHECK(document.error().where.starts_with(row.where));
        CHECK(!document.error().what_to_do.empty());
    }
    std::string deep = "a = ";
    for (int i = 0; i < 60; ++i) deep += '[';
    for (int i = 0; i < 60; ++i) deep += ']';
    const auto document = read_document(deep, "d.toml");
    REQUIRE(!document);
    CHECK(document.error().what == "Tables are nested more than 32 deep.");
}

}  // namespace wm::checklist
