#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("the office's record is asked for by --connect, and a server that is away ends with 4") {
    Shell home;
    CHECK(home.run({"office"}).code == 2);
    CHECK(home.run({"office", "--connect", "no string"}).code == 2);
    const std::string away = "host=/nowhere dbname=office user=lead";
    for (const std::vector<std::string>& words : {std::vector<std::string>{"office"}, {"office", "--drop", "/nowhere"},
                                                  {"office", "crew_north", "--role", "crew"}, {"week", "2026-W48"}, {"week", "--list"}}) {
        CAPTURE(words.size());
        auto asked = words;
        asked.insert(asked.end(), {"--connect", away, "--json"});
        const auto told = home.run(asked);
        CHECK(told.code == 4);
        check_fields(nlohmann::json::parse(told.data)["problem"], {"what", "where", "what_to_do"});
    }
    CHECK(home.run({"week", "2026-W48", "--connect", away, "--pdf", "x.pdf"}).code == 2);
}

}  // namespace wm::app
