#include "checklist/types.hpp"

#include <doctest/doctest.h>

#include <string>

namespace wm::checklist {
namespace {

// A check that reads a pressure over two channels, beside one named `cover-off`.
Scope pressure_scope() {
    Scope scope;
    scope.names["reading"] = Type::number(*units::unit_named("kPa"));
    scope.channels["riser"] = Type::number(*units::unit_named("°C"));
    scope.channels["downcomer"] = Type::number(*units::unit_named("°C"));
    return scope;
}

std::string type_text(const std::string& text) {
    const auto e = Expression::parse(text);
    REQUIRE_MESSAGE(e, text);
    const auto type = type_of(*e, pressure_scope());
    return type ? in_words(*type)
                : type.error().what + " @ " +
                      text.substr(type.error().begin, type.error().end - type.error().begin);
}

}  // namespace

TEST_CASE("what a part hangs on is checked like any condition: its answer can only be one of the check's words") {
    Check room;
    room.kind = Kind::Choice;
    room.accept = {"back to main", "vessel"};
    room.refuse = {"nowhere"};
    const auto scope = scope_of_part_applies(room, nullptr, nullptr);
    const auto fault = [&](const char* text) {
        const auto found = fault_unless(*Expression::parse(text), scope, Type::of(Sort::Truth));
        return found ? found->what : std::string{};
    };
    CHECK(fault("answer is 'vessel'").empty());
    CHECK(fault("sys.kind is 'indirect' and answer is not 'nowhere'").empty());
    CHECK(fault("answer is 'vesel'") == "compares answer with 'vesel', which it can never be");
    CHECK_FALSE(fault("answer more than 3 mm").empty());
    CHECK_FALSE(fault("reading is 'vessel'").empty());
}

TEST_CASE("each expression has one dimension, found before any number is known") {
    struct Row {
        std::string text, type;
    };
    for (const Row& row : {
             Row{"reading at most 600 kPa", "a yes or no"},
             Row{"60 °C - 5 K", "a temperature"},
             Row{"60 °C - 15 °C", "a temperature difference"},
             Row{"5 K + 60 °C", "a temperature"},
             Row{"sys.run_hot_m / 1 m", "a number"},
             Row{"sys.coll_m2 * 1 m", "a volume"},
             Row{"9.81 kPa * (sys.lift_m / 1 m) + 50 kPa", "a pressure"},
             Row{"ceil(11 * d.fix_n / 10)", "a number"},
             Row{"sqrt(sys.coll_m2)", "a length"},
             Row{"bearing_gap(sys.az_target, d.az_equator)", "an angle"},
             Row{"first(riser)", "a temperature"},
             Row{"smallest_late(10 min, riser - downcomer)", "a temperature difference"},
             Row{"customer.vulnerable and not known(sys.ua_wk)", "a yes or no"},
             Row{"today at least sys.fluid_expiry", "a yes or no"},
             Row{"if sys.kind is 'direct' then 1 m else 2 m", "a length"},
             Row{"reading within 10 % of 600 kPa", "a yes or no"},
             Row{"reading within 5 kPa of 600 kPa", "a yes or no"},
             Row{"sys.coll_l / sys.tank_l * 60 °C", "multiplies a temperature @ 60 °C"},
         }) {
        CAPTURE(row.text);
        CHECK(type_text(row.text) == row.type);
    }
}

TEST_CASE("what cannot be meant is refused in words, with the place") {
    struct Row {
        std::string text, what;
    };
    for (const Row& row : {
             Row{"reading at most 60 °C", "compares a pressure with a temperature @ 60 °C"},
             Row{"reading at most 5", "compares a pressure with a number @ 5"},
             Row{"60 °C + 5 °C", "adds two temperatures @ 60 °C + 5 °C"},
             Row{"5 K - 60 °C", "takes a temperature away from a difference @ 5 K - 60 °C"},
             Row{"-site.t_min_c", "turns the sign of a temperature @ -site.t_min_c"},
             Row{"2 m + 3 s", "adds a length and a time @ 3 s"},
             Row{"site.t_min_c at least 5 K",
                 "compares a temperature with a temperature difference @ 5 K"},
             Row{"60 °C within 10 % of 50 °C", "takes a share of a temperature @ 10 %"},
             Row{"reading within 3 K of 600 kPa",
                 "gives a distance of a temperature difference for a pressure @ 3 K"},
             Row{"sys.kind is 'dirct'",
                 "compares sys.kind with 'dirct', which it can never be @ 'dirct'"},
             Row{"sys.knd is 'direct'", "names \"sys.knd\", which nobody asks for @ sys.knd"},
             Row{"riser at least 5 °C",
                 "uses \"riser\" without saying which of its readings @ riser"},
             Row{"mean(first(riser))",
                 "puts first inside another function over the readings @ first(riser)"},
             Row{"smallest_late(10 K, riser)",
                 "gives a temperature difference for how late @ 10 K"},
             Row{"foo(1)", "calls \"foo\", which is no function @ foo"},
             Row{"abs()", "calls abs with 0 values @ abs()"},
             Row{"ceil(2 m)", "rounds a length without saying in which unit @ 2 m"},
             Row{"sqrt(2 m)", "takes the root of a length @ 2 m"},
             Row{"sys.kind at least 'direct'",
                 "asks which of two is larger, but compares a word @ sys.kind at least 'direct'"},
             Row{"reading and yes", "joins a pressure with \"and\" @ reading"},
             Row{"if reading then 1 else 2", "decides by a pressure @ reading"},
             Row{"if yes then 1 m else 2 s",
                 "gives a length after \"then\" and a time after \"else\" @ 2 s"},
             Row{"known(reading)", "asks whether something is known that is no fact @ reading"},
             Row{"d.p_atm_kpa + 5 kPa(g)",
                 "mixes a gauge pressure with an absolute one @ 5 kPa(g)"},
             Row{"outcome('x') is 'fine'",
                 "compares outcome('x') with 'fine', which it can never be @ 'fine'"},
         }) {
        CAPTURE(row.text);
        CHECK(type_text(row.text) == row.what);
    }
}

TEST_CASE("nested lists of comparisons are checked in a time that does not explode") {
    // Each level compares the one below it thirty times; a checker that looks again each time
    // would never return.
    std::string text = "1";
    for (int level = 0; level < 20; ++level)
        text = "(if " + text + " is one of (1, 2, 3, 4, 5, 6, 7, 8, 9) then 1 else 2)";
    const auto e = Expression::parse(text);
    REQUIRE(e);
    CHECK(type_of(*e, Scope{}));
}

TEST_CASE("a name of several words is written with underscores") {
    CHECK(as_name("water start") == "water_start");
    CHECK(as_name("owner's leave") == "owner_s_leave");
}

}  // namespace wm::checklist
