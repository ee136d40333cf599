#include "desk/registers.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

namespace {

const RegisterRow* row_named(const RegisterTable& table, std::string_view name) {
    for (const auto& row : table.rows)
        if (row.cells.front() == name) return &row;
    return nullptr;
}

std::string cell(const RegisterTable& table, std::string_view row, std::string_view column) {
    const auto* found = row_named(table, row);
    for (std::size_t i = 0; found != nullptr && i < table.columns.size(); ++i)
        if (table.columns[i] == column) return found->cells[i];
    return "(none)";
}

}  // namespace

TEST_CASE("an instrument stands once, with each calibration that a job was begun with") {
    Bench bench;
    // A second job with a newer calibration of the same gauge.
    auto facts = house_facts();
    std::string kit = tools();
    const auto at = kit.find("cal_due = ");
    REQUIRE(at != std::string::npos);
    kit.replace(at, 20, "cal_due = 2031-01-31");
    REQUIRE(bench.desk().carry_out(OpenJob{"commissioning", facts + kit, "facts.toml", "", false}));
    REQUIRE(bench.desk().carry_out(OpenJob{"commissioning", facts + kit, "facts.toml", "", true}));
    const auto table = register_table(bench.desk(), Register::Instruments);
    REQUIRE_MESSAGE(table, (table ? "" : told(table.error())));
    REQUIRE_FALSE(table->rows.empty());
    int with_two = 0;
    for (const auto& row : table->rows) {
        CHECK(row.cells.size() == table->columns.size());
        CHECK_FALSE(row.history.empty());
        CHECK(cell(*table, row.cells.front(), "jobs") == "2");  // the practice job is left out
        with_two += row.history.size() == 2 ? 1 : 0;
    }
    CHECK(with_two >= 1);
}

TEST_CASE("an instrument past its date says since when, one that was doubted is not to be trusted") {
    Bench bench;
    auto table = register_table(bench.desk(), Register::Instruments);
    REQUIRE(table);
    bench.enter("coll-tilt", "35°");
    const std::string name = "IN-1";
    CHECK(cell(*table, name, "state") == "in date");
    const auto doubted = bench.desk().carry_out(DoubtInstrument{.instrument = name, .from = "2026-01-01", .until = "", .as_found = "", .why = "found off", .by = "lead"});
    REQUIRE_MESSAGE(doubted, (doubted ? "" : told(doubted.error())));
    table = register_table(bench.desk(), Register::Instruments);
    REQUIRE(table);
    CHECK(cell(*table, name, "state") == "not to be trusted");
}

TEST_CASE("people and checklists are told with their papers and versions") {
    Bench bench;
    const auto people = register_table(bench.desk(), Register::People);
    REQUIRE(people);
    REQUIRE(people->rows.size() == 1);
    CHECK(cell(*people, people->rows.front().cells.front(), "jobs led") == "1");
    const auto lists = register_table(bench.desk(), Register::Checklists);
    REQUIRE(lists);
    CHECK(cell(*lists, "commissioning", "jobs") == "1");
    CHECK(cell(*lists, "commissioning", "checks") == "90");
    CHECK(cell(*lists, "survey", "jobs") == "0");
    CHECK(register_named("people") == Register::People);
    CHECK_FALSE(register_named("parts"));
}

}  // namespace wm::desk
