#include "checklist/words.hpp"

#include <doctest/doctest.h>

namespace wm::checklist {

TEST_CASE("the nearest name is the one with the fewest changed letters, if they are few") {
    const std::vector<std::string> names{"sys.tank_l", "sys.coll_l", "site.latitude"};
    CHECK(nearest("sys.tank_1", names) == "sys.tank_l");
    CHECK(nearest("site.latitud", names) == "site.latitude");
    CHECK(nearest("sys.tnak_l", names) == "sys.tank_l");
    CHECK(nearest("Site.Latitude", names) == "site.latitude");
    CHECK_FALSE(nearest("heater.relief", names));
    CHECK_FALSE(nearest("", names));
    CHECK_FALSE(nearest(std::string(100, 'x'), names));
}

TEST_CASE("lists read as people say them") {
    CHECK(listed({}) == "");
    CHECK(listed({"a"}) == "a");
    CHECK(listed({"a", "b", "c"}) == "a, b and c");
    CHECK(quoted({"a", "b"}) == "\"a\" or \"b\"");
}

TEST_CASE("amounts show what was read and no digits of the computer") {
    const auto kpa = *units::unit_named("kPa");
    const auto show = [&](double value, std::optional<int> decimals = std::nullopt) {
        return amount_text(units::Amount::of(value, kpa), kpa, decimals);
    };
    CHECK(show(480) == "480 kPa");
    CHECK(show(480, 1) == "480.0 kPa");
    CHECK(show(480.25, 0) == "480.3 kPa");
    CHECK(show(0.1 + 0.2) == "0.3 kPa");
    CHECK(show(12345.6) == "12346 kPa");
    CHECK(show(0) == "0 kPa");
    CHECK(show(-3.5) == "-3.5 kPa");
}

TEST_CASE("an uncertainty has two significant digits") {
    // Source: JCGM 100:2008, 7.2.6.
    const auto mm = *units::unit_named("mm");
    const auto show = [&](double value) { return uncertainty_text(units::Amount::of(value, mm), mm); };
    CHECK(show(1.001) == "1 mm");
    CHECK(show(0.8345) == "0.83 mm");
    CHECK(show(12.34) == "12 mm");
    CHECK(show(0.00999) == "0.01 mm");
    CHECK(show(0) == "0 mm");
}

TEST_CASE("ranges are said with both ends, one end, or none") {
    const auto nm = *units::unit_named("N·m");
    const auto amount = [&](double v) { return std::optional{units::Amount::of(v, nm)}; };
    CHECK(range_text(amount(18), amount(22), nm) == "18 to 22 N·m");
    CHECK(range_text(amount(18), std::nullopt, nm) == "at least 18 N·m");
    CHECK(range_text(std::nullopt, amount(22), nm) == "at most 22 N·m");
    CHECK(range_text(amount(20), amount(20), nm) == "exactly 20 N·m");
    CHECK(range_text(std::nullopt, std::nullopt, nm) == "any value");
}

TEST_CASE("texts are split at separators and trimmed") {
    CHECK(split_at(" a ; b;; c ", ';') == std::vector<std::string_view>{"a", "b", "", "c"});
    CHECK(split_at("a;", ';') == std::vector<std::string_view>{"a"});
    CHECK(split_at("", ';') == std::vector<std::string_view>{""});
    CHECK(trimmed(" \t a b \n") == "a b");
    CHECK(lower_case("Kilo PASCAL") == "kilo pascal");
}

}  // namespace wm::checklist
