#include "checklist/document_guard.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE("published files and every kind of string and comment pass") {
    for (const std::string file : {"survey.toml", "kit.toml", "commissioning.toml", "service.toml",
                                   "cautions.toml", "instruments.toml", "parts.toml", "failures.toml"})
        CHECK_FALSE(stumbling_block(testing::published(file)));
    for (const std::string& text :
         std::vector<std::string>{"a = \"größe\" # größe\n", "a = 'größe'\n", "\"größe\" = 1\n",
                                  "a = \"\"\"\ngröße \" \"\"\"\"\"\n# ä\n", "a = '''ä''' \n",
                                  "a = \"\\\"ä\"\n", "a = \"\"\"x \\\n   y ä\"\"\"\n",
                                  "\xEF\xBB\xBF"
                                  "a = 1\n",
                                  "a = \"" + std::string(500, '.') + "\"\n"}) {
        CAPTURE(text);
        CHECK_FALSE(stumbling_block(text));
    }
}

TEST_CASE("a file of more values than any checklist has is refused, and quotes and comments do not count") {
    std::string list = "a = [";
    for (int i = 0; i < 60'000; ++i) list += "1,";
    const auto block = stumbling_block(list + "]\n");
    REQUIRE(block);
    CHECK(block->what == "The file holds more than 60000 values and tables.");
    CHECK_FALSE(stumbling_block("a = \"" + std::string(100'000, ',') + "\"\n# " + std::string(100'000, '=') + "\n"));
}

TEST_CASE("letters outside quotes and endless points are found with their place") {
    struct Row {
        std::string text, what;
        Position at;
    };
    for (const Row& row :
         {Row{"a = 1\nb = ä\n", "\"ä\" stands outside quotes.", {2, 5}},
          Row{"größe = 1\n", "\"ö\" stands outside quotes.", {1, 3}},
          Row{"a = \"ä\" ö\n", "\"ö\" stands outside quotes.", {1, 9}},
          Row{"a = \"x\nä = 1\n", "\"ä\" stands outside quotes.", {2, 1}},
          Row{"a = 4\"ä\"\n", "A quote stands in the middle of a value.", {1, 6}},
          Row{"a = \"\"\"x \\\n  ä\"\"\"\n", "\"ä\" follows a backslash.", {2, 3}},
          Row{std::string(101, '.'), "A line holds more than 100 points.", {1, 101}}}) {
        CAPTURE(row.text);
        const auto block = stumbling_block(row.text);
        REQUIRE(block);
        CHECK(block->what == row.what);
        CHECK(block->at == row.at);
    }
}

}  // namespace wm::checklist
