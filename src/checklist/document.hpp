// A TOML text as a plain tree that knows where each value stands.
//
// The one place that opens the TOML library. Everything else of this room reads this tree, so that
// checklists, facts and instruments share one way to be read and one way to complain.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "checklist/position.hpp"
#include "problem/result.hpp"

namespace wm::checklist {

enum class ItemType { Table, List, Text, Number, Whole, YesNo, Date, Other };

[[nodiscard]] std::string_view in_words(ItemType type);  ///< "a text", "a list"

/// One value of the document. `text` holds a text, the number in its shortest form, "yes"/"no" or
/// the day. A table keeps its keys in the order of the file.
struct Item {
    ItemType type = ItemType::Other;
    Position at;
    std::string text;
    double number = 0.0;
    bool yes = false;
    std::vector<std::pair<std::string, Item>> entries;  ///< of a Table
    std::vector<Item> items;                            ///< of a List

    [[nodiscard]] const Item* find(std::string_view key) const;
};

/// The whole text as a table. Refuses what is no TOML (where: "file:line:column"), texts above
/// 2 MB, bytes that are no UTF-8, and tables nested more than 32 deep.
[[nodiscard]] Result<Item> read_document(std::string_view text, std::string_view file_name);

/// "file:line:column".
[[nodiscard]] std::string place_of(std::string_view file_name, Position at);

}  // namespace wm::checklist
