#include "desk/register_table.hpp"

#include <algorithm>
#include <charconv>
#include <optional>

#include "units/reading.hpp"

namespace wm::desk {

namespace {

char lower(char letter) { return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter; }

std::string lowered(std::string_view text) {
    std::string low{text};
    std::transform(low.begin(), low.end(), low.begin(), lower);
    return low;
}

/// The number a cell begins with, unless it is a date or an id that only begins with digits.
std::optional<double> leading_number(std::string_view cell) {
    const auto end = std::min(cell.find(' '), cell.size());
    const auto number = units::read_number(cell.substr(0, end));
    return number ? std::optional{*number} : std::nullopt;
}

// Below zero, zero, above zero as a stands before, with or behind b.
int compared(const std::string& a, const std::string& b) {
    const auto x = leading_number(a);
    const auto y = leading_number(b);
    if (x && y) return *x < *y ? -1 : *x > *y ? 1 : 0;
    const int words = lowered(a).compare(lowered(b));
    return words < 0 ? -1 : words > 0 ? 1 : 0;
}

/// How many bytes a sign has here that a spreadsheet begins a formula with; the wide ones of East Asian keyboards too.
std::size_t acting_sign(std::string_view text) {
    if (!text.empty() && std::string_view{"=+-@"}.find(text.front()) != std::string_view::npos) return 1;
    for (const std::string_view wide : {"\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"})
        if (text.starts_with(wide)) return wide.size();
    return 0;
}

/// With an apostrophe before each sign that a spreadsheet would carry out. Where another separator than ours is set, or the
/// text is pasted, a cell begins behind every one of them, so each is looked at.
std::string guarded(std::string_view cell) {
    constexpr std::string_view separators{",;\t\r\n"};
    std::string text;
    bool begins = true;
    for (std::size_t at = 0; at < cell.size(); ++at) {
        if (begins && acting_sign(cell.substr(at)) > 0) {
            std::string_view piece = cell.substr(at, cell.find_first_of(separators, at) - at);
            while (piece.ends_with(' ')) piece.remove_suffix(1);
            if (!units::read_number(piece)) text += '\'';
        }
        const bool is_blank = static_cast<unsigned char>(cell[at]) <= 0x20 || cell[at] == '"';
        const bool ends_one = separators.find(cell[at]) != std::string_view::npos;
        begins = ends_one || (begins && is_blank);
        text += cell[at];
    }
    return text;
}

std::string csv_cell(const std::string& cell) {
    const std::string text = guarded(cell);
    if (text.find_first_of(",;\t\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char sign : text) {
        if (sign == '"') quoted += '"';
        quoted += sign;
    }
    return quoted + "\"";
}

void add_line(std::string& csv, const std::vector<std::string>& cells) {
    for (std::size_t i = 0; i < cells.size(); ++i) csv += (i == 0 ? "" : ",") + csv_cell(cells[i]);
    csv += "\r\n";
}

}  // namespace

void sort_by(RegisterTable& table, std::size_t column, Order order) {
    if (column >= table.columns.size()) return;
    std::stable_sort(table.rows.begin(), table.rows.end(), [&](const RegisterRow& a, const RegisterRow& b) {
        const std::string& x = a.cells[column];
        const std::string& y = b.cells[column];
        if (x.empty() != y.empty()) return y.empty();
        const int sign = compared(x, y);
        return order == Order::Rising ? sign < 0 : sign > 0;
    });
}

bool has_words(std::string_view text, std::string_view search) {
    const std::string all = lowered(text);
    const std::string wanted = lowered(search);
    std::size_t start = 0;
    while (start < wanted.size()) {
        const std::size_t end = std::min(wanted.find(' ', start), wanted.size());
        if (all.find(wanted.substr(start, end - start)) == std::string::npos) return false;
        start = end + 1;
    }
    return true;
}

bool holds_words(const RegisterRow& row, std::string_view search) {
    std::string all;
    for (const auto& cell : row.cells) all += cell + "\n";
    return has_words(all, search);
}

void keep_only(RegisterTable& table, std::string_view search) {
    std::erase_if(table.rows, [&](const RegisterRow& row) { return !holds_words(row, search); });
}

std::string csv_of(const RegisterTable& table) {
    std::string csv;
    add_line(csv, table.columns);
    for (const auto& row : table.rows) add_line(csv, row.cells);
    return csv;
}

}  // namespace wm::desk
