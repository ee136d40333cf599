// A register as a table of words: sorting, filtering, and as CSV that no spreadsheet takes for a formula.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace wm::desk {

enum class Register { Instruments, People, Checklists };

struct RegisterRow {
    std::vector<std::string> cells;    ///< one for each column
    std::vector<std::string> history;  ///< lines about this row, newest first
};

struct RegisterTable {
    std::vector<std::string> columns;
    std::vector<RegisterRow> rows;
};

enum class Order { Rising, Falling };

/// Cells that both begin with a number are compared as numbers, others as text without regard to the case of ASCII letters;
/// empty cells come last in either order. Rows that are alike keep their order.
void sort_by(RegisterTable& table, std::size_t column, Order order);

/// Whether every word of the search stands in the text, upper and lower case of ASCII letters alike.
[[nodiscard]] bool has_words(std::string_view text, std::string_view search);
/// Whether every word of the search stands in some cell of the row, upper and lower case alike.
[[nodiscard]] bool holds_words(const RegisterRow& row, std::string_view search);
/// Leaves out the rows that do not.
void keep_only(RegisterTable& table, std::string_view search);

/// RFC 4180: commas, CRLF, quotes doubled; a header line. What a spreadsheet would carry out (=, +, -, @ or their wide forms at
/// the beginning of a cell, or behind a comma, semicolon, tab or line end in it, unless it is a plain number) has an apostrophe
/// before it.
[[nodiscard]] std::string csv_of(const RegisterTable& table);

}  // namespace wm::desk
