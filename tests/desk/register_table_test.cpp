#include "desk/register_table.hpp"

#include <doctest/doctest.h>

namespace wm::desk {
namespace {

RegisterTable three() {
    return {{"instrument", "jobs"}, {{{"TW-1", "9"}, {}}, {{"pg-2", "10"}, {"calibrated"}}, {{"TH-1", ""}, {}}}};
}

std::string order_of(const RegisterTable& table) {
    std::string all;
    for (const auto& row : table.rows) all += row.cells.front() + " ";
    return all;
}

}  // namespace

TEST_CASE("numbers sort as numbers, words without regard to case, and what is empty comes last either way") {
    auto table = three();
    sort_by(table, 1, Order::Rising);
    CHECK(order_of(table) == "TW-1 pg-2 TH-1 ");
    sort_by(table, 1, Order::Falling);
    CHECK(order_of(table) == "pg-2 TW-1 TH-1 ");
    sort_by(table, 0, Order::Rising);
    CHECK(order_of(table) == "pg-2 TH-1 TW-1 ");
    sort_by(table, 7, Order::Rising);
    CHECK(order_of(table) == "pg-2 TH-1 TW-1 ");
}

TEST_CASE("a search wants each of its words in some cell") {
    auto table = three();
    CHECK(holds_words(table.rows[1], "PG 10"));
    CHECK_FALSE(holds_words(table.rows[1], "pg 9"));
    keep_only(table, "t");
    CHECK(order_of(table) == "TW-1 TH-1 ");
}

// Source of the form: RFC 4180. Source of the signs that spreadsheets carry out: OWASP, CSV Injection (from memory).
TEST_CASE("CSV doubles quotes, guards what a spreadsheet would carry out, and leaves numbers below zero alone") {
    const RegisterTable table{{"a", "b"}, {{{"=1+1", "say \"no\", twice"}, {}}, {{"-5", "@SUM(A1)"}, {}}, {{"+cmd|calc", "line\nbreak"}, {}}}};
    CHECK(csv_of(table) == "a,b\r\n'=1+1,\"say \"\"no\"\", twice\"\r\n-5,'@SUM(A1)\r\n'+cmd|calc,\"line\nbreak\"\r\n");
}

// Where the separator is a semicolon, or the text is pasted, a cell begins in the middle of ours.
TEST_CASE("CSV guards what a spreadsheet would carry out behind any separator, blanks or quotes, and in wide signs") {
    const auto cell = [](std::string text) { return csv_of({{"a"}, {{{std::move(text)}, {}}}}).substr(3); };
    CHECK(cell("all well;=1+1") == "\"all well;'=1+1\"\r\n");
    CHECK(cell("all well\t @SUM(A1)") == "\"all well\t '@SUM(A1)\"\r\n");
    CHECK(cell("a\n=1") == "\"a\n'=1\"\r\n");
    CHECK(cell("a;\"=1\"") == "\"a;\"\"'=1\"\"\"\r\n");
    CHECK(cell(" =1") == " '=1\r\n");
    CHECK(cell("＝1＋1") == "'＝1＋1\r\n");
    CHECK(cell("-5,3; -7") == "\"-5,3; -7\"\r\n");
    CHECK(cell("-5+cmd|calc") == "'-5+cmd|calc\r\n");
    CHECK(cell("set-up; 3 = three") == "\"set-up; 3 = three\"\r\n");
}

}  // namespace wm::desk
