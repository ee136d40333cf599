#include "checklist/parts_list.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <map>
#include <random>

#include "checklist/judge.hpp"
#include "checklist/testing.hpp"
#include "units/reading.hpp"

using namespace wm;
using namespace wm::checklist;
using wm::checklist::testing::facts_with;
using wm::checklist::testing::library_with;
using wm::checklist::testing::published;

namespace {

struct House {
    Library library = library_with({"kit.toml"});
    Facts facts;

    [[nodiscard]] Context context() const {
        return {.facts = facts, .library = library, .today = "2026-11-27", .outcome_of = [](const CheckId&) { return std::nullopt; },
                .answer_of = [](const CheckId&) { return std::nullopt; }, .value_of = [](const CheckId&) { return std::nullopt; },
                .earlier_value_of = [](const CheckId&) { return std::nullopt; }};
    }
};

/// The house of trade-checks 2.2: 2 m², 150 L, clay tile, 40 m/s, fixings of 0.8 kN.
House trade_house() {
    House house;
    house.facts = facts_with({{"sys.kind", "indirect"}, {"sys.feed", "mains-pressure"}, {"sys.tank_l", "150"}, {"sys.coll_m2", "2"},
                              {"sys.coll_l", "2"}, {"sys.jacket_l", "9"}, {"sys.mount", "roof hook"}, {"site.wind_ms", "40"},
                              {"sys.fix_kn", "0.8"}, {"sys.anchor_n", "4"}, {"sys.pipe_od_mm", "22"}, {"sys.run_hot_m", "0.6"},
                              {"sys.run_cold_m", "0.6"}, {"sys.run_disch_m", "5"}, {"sys.disch_elbows", "4"}, {"sys.run_drain_m", "3"},
                              {"sys.fluid", "concentrate"}, {"site.t_min_c", "-9"}, {"sys.relief_kpa", "600"}, {"sys.relief_c", "95"},
                              {"heater.relief_kpa", "700"}, {"heater.max_inlet_c", "65"}, {"customer.vulnerable", "true"},
                              {"roof.covering", "clay-tile"}, {"house.pipe", "copper"}, {"sys.controller", "none"},
                              {"sys.jacket_relief_kpa", "200"}, {"sys.limit_set_kpa", "350"}, {"site.altitude_m", "2310"},
                              {"site.latitude", "29.4"}});
    return house;
}

std::map<std::string, PartNeeded> by_id(const std::vector<PartNeeded>& rows) {
    std::map<std::string, PartNeeded> found;
    for (const auto& row : rows) found.emplace(row.part->id, row);
    return found;
}

double figure(const std::string& amount, const units::Unit& unit) {
    const auto read = units::read_amount(amount == "1 piece" ? "1 pieces" : amount, unit, "test");
    REQUIRE_MESSAGE(read, amount);
    return read->value;
}

}  // namespace

TEST_CASE("the amounts of a house follow from its survey") {
    const House house = trade_house();
    const auto list = load_parts(published("parts.toml"), "parts.toml", house.library);
    REQUIRE_MESSAGE(list, (list ? std::string{} : list.error().what + list.error().where));
    const auto rows = by_id(parts_needed(*list, house.context()));
    // 40 m/s on 2 m² and 0.8 kN a fixing ask for 5 (trade-checks 2.2); with 4 feet and a tenth to spare 9.9, so 10.
    CHECK(rows.at("fixings").amount == "10 pieces");
    // Loop of 11.4 L (2 + 9 + 1.2 m of 22 × 1 at 0.314 L/m) at 35 % and 0.5 L to spare: 4.48 L (the table's 4.5).
    CHECK(rows.at("concentrate").amount == "4.5 L");
    CHECK(rows.at("concentrate").name.find("35 %") != std::string::npos);
    CHECK(rows.at("pipe-loop").amount == "1.9 m");
    CHECK(rows.at("pipe-discharge").amount == "5.5 m");
    // 5 m and 4 elbows of 0.8 m: 8.2 m (trade-checks 2.2).
    CHECK(rows.at("pipe-discharge").note.find("8.2 m") != std::string::npos);
    // 9.2 m at 1.8 m: 5.1, so 6 and one more.
    CHECK(rows.at("supports").amount == "7 pieces");
    CHECK(rows.at("tempering").name == "Tempering valve for the taps, at most 45 °C");
    CHECK(rows.at("tempering-ahead").name == "Tempering valve ahead of the heater, at most 65 °C");
    CHECK(rows.at("limiting").note == "Never above 480 kPa, four fifths of the lowest relief valve.");
    CHECK(rows.at("spare-covering").amount == "3 pieces");
    CHECK(rows.at("store").amount == "1 piece");
    CHECK(!rows.contains("premix"));
    CHECK(!rows.contains("spare-sheet"));
    CHECK(!rows.contains("unions"));
    CHECK(!rows.contains("controller"));
    CHECK(!rows.contains("ballast"));
    for (const auto& [id, row] : rows) CHECK_MESSAGE(row.missing.none(), id);
}

TEST_CASE("what is not known is told and not guessed") {
    House house = trade_house();
    const auto list = load_parts(published("parts.toml"), "parts.toml", house.library);
    REQUIRE(list);
    house.facts = facts_with({{"sys.kind", "indirect"}, {"sys.run_hot_m", "2"}, {"sys.run_cold_m", "2"}});
    const auto rows = by_id(parts_needed(*list, house.context()));
    CHECK(rows.at("pipe-loop").amount == "4.9 m");
    CHECK(rows.at("fixings").amount.empty());
    CHECK(rows.at("fixings").missing.facts.size() >= 3);
    // Which of the two fluids comes is not known: both are asked about.
    CHECK(rows.contains("premix"));
    CHECK(rows.contains("concentrate"));
    CHECK(rows.at("store").name.find("…") != std::string::npos);
}

TEST_CASE("over random houses the parts of a check of the kit are enough for it, and no more than rounding asks") {
    House house = trade_house();
    const auto list = load_parts(published("parts.toml"), "parts.toml", house.library);
    REQUIRE(list);
    std::mt19937 random{7};
    const auto between = [&](double low, double high) { return std::uniform_real_distribution{low, high}(random); };
    const auto set = [&](const char* key, const std::string& text) {
        auto value = read_fact(key, text);
        REQUIRE(value);
        house.facts.set(*std::move(value));
    };
    for (int i = 0; i < 300; ++i) {
        for (const char* run : {"sys.run_hot_m", "sys.run_cold_m", "sys.run_disch_m", "sys.run_drain_m", "sys.run_pre_m", "sys.run_out_m"})
            set(run, fmt::format("{:.2f}", between(0.3, 30.0)));
        set("site.wind_ms", fmt::format("{:.0f}", between(20.0, 60.0)));
        set("sys.fix_kn", fmt::format("{:.2f}", between(0.4, 3.0)));
        set("sys.fluid", i % 2 == 0 ? "premix" : "concentrate");
        set("sys.pipe_od_mm", i % 3 == 0 ? "15" : "22");
        std::map<std::string, double> given;
        std::map<std::string, int> count;
        for (const auto& row : parts_needed(*list, house.context())) {
            if (row.part->id == "ballast") continue;
            given[row.part->check] += figure(row.amount, row.part->unit);
            ++count[row.part->check];
        }
        for (const auto& check : house.library.checklist_named("kit")->checks) {
            const auto limits = limits_for(check, "", house.context());
            if (!limits.low || !limits.unit) continue;
            const double least = limits.low->in(*limits.unit);
            const double step = limits.unit->symbol == "pieces" ? 1.0 : 0.1;
            CHECK_MESSAGE(given[check.id.text] >= least - 1e-6, check.id.text);
            CHECK_MESSAGE(given[check.id.text] < least + step * count[check.id.text], check.id.text);
        }
    }
}

TEST_CASE("a list of parts with a fault is refused with its place") {
    const House house = trade_house();
    const std::string head = "[parts]\nversion = 1\ndate = 2026-11-27\nreason = \"r\"\n";
    const std::string part = "[[part]]\nid = \"a\"\ncheck = \"kit-pipe\"\nname = \"N\"\nunit = \"m\"\namount = \"1 m\"\nsource = [\"CP\"]\n";
    REQUIRE(load_parts(head + part, "p.toml", house.library));
    const auto changed = [&](const std::string& from, const std::string& to) {
        std::string text = part;
        text.replace(text.find(from), from.size(), to);
        return load_parts(head + text, "p.toml", house.library);
    };
    for (const auto& [from, to, told] :
         {std::tuple{"\"1 m\"", "\"sys.relief_kpa\"", "pressure"}, {"\"1 m\"", "\"sys.run_hott_m\"", "sys.run_hott_m"}, {"\"N\"", "\"N {sys.tank}\"", "sys.tank"},
          {"kit-pipe", "anchor-torque", "the kit does not hold"}, {"\"CP\"", "\"S99\"", "S99"}, {"amount = \"1 m\"", "", "no amount"},
          {"id = \"a\"", "id = \"a\"\ncolour = 3", "colour"}}) {
        const auto list = changed(from, to);
        REQUIRE_MESSAGE(!list, to);
        CHECK_MESSAGE(list.error().what.find(told) != std::string::npos, list.error().what);
        CHECK(list.error().where.starts_with("p.toml:"));
    }
    CHECK(!load_parts(head + part + part, "p.toml", house.library));
    // Where there is a commissioning, the checks on the roof are its own; a plate is kept in a fact of plain words.
    const Library both = library_with({"kit.toml", "commissioning.toml"});
    CHECK(load_parts(head + part + "roof = [\"loop-rise\"]\nserial = \"serial.tank\"\nbatch = \"batch.hook\"\n", "p.toml", both));
    for (const auto& [line, told] : {std::pair{"roof = [\"kit-pipe\"]\n", "the commissioning does not hold"}, {"serial = \"serial.tnak\"\n", "serial.tnak"},
                                     {"batch = \"sys.relief_kpa\"\n", "no fact in plain words"}, {"serial = \"customer.name\"\n", "no fact in plain words"}}) {
        const auto list = load_parts(head + part + line, "p.toml", both);
        REQUIRE_MESSAGE(!list, line);
        CHECK_MESSAGE(list.error().what.find(told) != std::string::npos, list.error().what);
    }
    CHECK(!load_parts(part, "p.toml", house.library));
}
