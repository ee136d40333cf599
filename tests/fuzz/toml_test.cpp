// TOML: our reader beside Python's.
#include <cmath>

#include <nlohmann/json.hpp>

#include "checklist/document.hpp"
#include "fuzz/spoil.hpp"

using namespace wm;
using checklist::Item;
using checklist::ItemType;
using Json = nlohmann::json;

namespace {

/// The tree as toml_verdicts.py writes Python's; numbers as numbers.
Json plain(const Item& item) {
    switch (item.type) {
        case ItemType::Table: {
            Json object = Json::object();
            for (const auto& [name, value] : item.entries) object[name] = plain(value);
            return object;
        }
        case ItemType::List: {
            Json list = Json::array();
            for (const auto& each : item.items) list.push_back(plain(each));
            return list;
        }
        case ItemType::Text:
            return item.text;
        case ItemType::Whole:
            return std::stoll(item.text);  // its digits; as a number it is a double
        case ItemType::Number:
            if (std::isnan(item.number)) return "?nan";
            if (std::isinf(item.number)) return item.number > 0 ? "?inf" : "?-inf";
            return item.number;
        case ItemType::YesNo:
            return item.yes;
        case ItemType::Date:
            return "?" + item.text;
        case ItemType::Other:
            return "?moment";
    }
    return nullptr;
}

}  // namespace

TEST_CASE("TOML that Python refuses is refused, and what both read is the same") {
    // Source: tomllib of Python 3.11, which its makers hold to the suite of TOML 1.0; by tests/fuzz/toml_verdicts.py.
    const auto rows = Json::parse(fuzz::corpus_file("toml/verdicts.json"));
    REQUIRE(rows.size() == 700);
    int both = 0;
    int ours_alone = 0;
    for (const auto& row : rows) {
        const std::string text = row[0];
        CAPTURE(text);
        const auto read = checklist::read_document(text, "a.toml");
        if (!read) {
            CHECK(fuzz::fault_of(read).empty());
            // Sound TOML that no checklist needs may be refused as well; document_guard.hpp says which.
            ours_alone += row[1].is_null() ? 0 : 1;
            continue;
        }
        CHECK_FALSE(row[1].is_null());
        if (row[1].is_null()) continue;
        CHECK(plain(*read) == row[1]);
        ++both;
    }
    MESSAGE(both << " read alike, " << ours_alone << " refused by us alone");
    CHECK(both > 200);
    CHECK(ours_alone < 40);
}
