// CSV is written and nowhere read: what leaves the program beside Python's reader, and whether a spreadsheet would act.
#include "desk/register_table.hpp"
#include "fuzz/second_reader.hpp"
#include "fuzz/spoil.hpp"

using namespace wm;

TEST_CASE("CSV: whatever stands in the cells, another reader finds the same, and under no separator does a cell act") {
    // Source: csv of Python 3.11, strict, and with comma, semicolon and tab as its separator.
    const auto cells = fuzz::corpus_lines("csv");
    REQUIRE(cells.size() > 20);
    fuzz::SecondReader python{"table", 3'000};
    std::vector<std::string> held;
    std::size_t acting = 0;
    fuzz::run("csv", cells, 6'000, [&](const std::string& cell) -> std::string {
        // What is no UTF-8 never gets into a register: entries refuse it.
        const std::string text = nlohmann::json(cell).dump(-1, ' ', false, nlohmann::json::error_handler_t::ignore);
        held.push_back(nlohmann::json::parse(text));
        if (held.size() < 6) return "";
        const desk::RegisterTable table{{held[0], held[1]}, {{{held[2], held[3]}, {}}, {{held[4], held[5]}, {}}}};
        held.clear();
        const std::string csv = desk::csv_of(table);
        python.add(csv, nlohmann::json::array({table.columns, table.rows[0].cells, table.rows[1].cells}));
        acting += csv.find('\'') != std::string::npos ? 1 : 0;
        return csv.ends_with("\r\n") ? "" : "a line without its end";
    });
    CHECK(acting > 100);
    python.must_agree();
}
