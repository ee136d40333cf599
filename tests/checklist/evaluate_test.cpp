#include "checklist/evaluate.hpp"

#include <doctest/doctest.h>

#include <string>

#include "checklist/derived_names.hpp"
#include "checklist/testing.hpp"
#include "units/reading.hpp"

namespace wm::checklist {
namespace {

const Library no_library;

std::string shown(const Evaluated& value) {
    if (!value) {
        std::string text = "missing:";
        for (const auto& key : value.error().facts) text += " " + key;
        for (const auto& id : value.error().checks) text += " check " + id;
        return value.error().trouble.empty() ? text : "trouble: " + value.error().trouble;
    }
    if (const auto* amount = std::get_if<units::Amount>(&*value))
        return units::print_short(amount->si, 9);
    if (const auto* truth = std::get_if<bool>(&*value)) return *truth ? "yes" : "no";
    if (const auto* word = std::get_if<std::string>(&*value)) return *word;
    return std::get<Day>(*value).text;
}

std::string evaluated(const std::string& text) {
    const auto facts = testing::facts_with({{"sys.kind", "indirect"},
                                            {"sys.anchor_nm", "20"},
                                            {"sys.tank_l", "150"},
                                            {"customer.vulnerable", "no"},
                                            {"site.t_min_c", "-13"},
                                            {"sys.fluid_expiry", "2027-06-30"}});
    const Context context{
        facts,
        no_library,
        "2027-03-04",
        [](const CheckId& id) {
            return id.text == "done" ? std::optional{Outcome::Conforms} : std::nullopt;
        },
        [](const CheckId& id) {
            return id.text == "done" ? std::optional<std::string>{"off"} : std::nullopt;
        },
        [](const CheckId& id) {
            return id.text == "done"
                       ? std::optional{units::Amount::of(350, *units::unit_named("kPa"))}
                       : std::nullopt;
        },
        {}};
    const Given given{
        context, {{"reading", units::Amount::of(21, *units::unit_named("N·m"))}}, nullptr};
    const auto e = Expression::parse(text);
    REQUIRE_MESSAGE(e, text);
    return shown(evaluate(*e, given));
}

}  // namespace

TEST_CASE("expressions come to the value that arithmetic and logic give them") {
    struct Row {
        std::string text, value;
    };
    for (const Row& row : {
             Row{"1 + 2 * 3 - 4 / 2", "5"},
             Row{"reading within 10 % of sys.anchor_nm", "yes"},
             Row{"reading within 4 % of sys.anchor_nm", "no"},
             Row{"reading between 18 N·m and 21 N·m", "yes"},
             Row{"reading more than 21 N·m", "no"},
             Row{"0.1 + 0.2 at most 0.3", "yes"},
             Row{"site.t_min_c - 5 K at most -18 °C", "yes"},
             Row{"60 °C - 15 °C", "45"},
             Row{"ceil(1.1 * 10)", "11"},
             Row{"ceil(4.4)", "5"},
             Row{"floor(4.9)", "4"},
             Row{"round(4.5)", "5"},
             Row{"sqrt(9)", "3"},
             Row{"clamp(7, 1, 5)", "5"},
             Row{"min(3, 1, 2)", "1"},
             Row{"abs(2 - 5)", "3"},
             // 355° and 5° lie 10° apart. Source: own arithmetic.
             Row{"bearing_gap(355°, 5°) / 1°", "10"},
             Row{"sys.kind is one of ('direct', 'indirect')", "yes"},
             Row{"sys.kind is not 'indirect'", "no"},
             Row{"if customer.vulnerable then 45 else 50", "50"},
             Row{"today at most sys.fluid_expiry", "yes"},
             Row{"today is 2027-03-04", "yes"},
             Row{"known(sys.tank_l) and not known(sys.ua_wk)", "yes"},
             Row{"outcome('done') is 'conforms'", "yes"},
             Row{"answer('done') is 'off'", "yes"},
             Row{"value('done') at least 3 bar", "yes"},
         }) {
        CAPTURE(row.text);
        CHECK(evaluated(row.text) == row.value);
    }
}

TEST_CASE("what is not known is named, all of it, unless it does not matter") {
    struct Row {
        std::string text, value;
    };
    for (const Row& row : {
             Row{"sys.coll_l + sys.jacket_l at most 10 L", "missing: sys.coll_l sys.jacket_l"},
             Row{"sys.kind is 'direct' and sys.coll_l at least 1 L", "no"},
             Row{"sys.coll_l at least 1 L and sys.kind is 'direct'", "no"},
             Row{"sys.kind is 'indirect' or sys.coll_l at least 1 L", "yes"},
             Row{"if sys.kind is 'direct' then sys.coll_l else sys.tank_l", "0.15"},
             Row{"d.fpt_need_c at most -18 °C", "yes"},
             Row{"d.q_kpa at most 1 kPa", "missing: site.wind_ms"},
             Row{"outcome('later') is 'conforms'", "missing: check later"},
             Row{"commissioning('done') at least 1 kPa", "missing: check done"},
         }) {
        CAPTURE(row.text);
        CHECK(evaluated(row.text) == row.value);
    }
}

TEST_CASE("arithmetic without a result says so instead of going on") {
    CHECK(evaluated("1 / (2 - 2)") == "trouble: a division by zero");
    CHECK(evaluated("sqrt(1 - 2)") == "trouble: the root of a number below zero");
    CHECK(evaluated("clamp(1, 5, 2)") ==
          "trouble: a clamp whose lower end lies above its upper end");
    CHECK(evaluated("1e300 * 1e300") == "trouble: a number too large to count with");
    CHECK(evaluated("mean(reading)") == "trouble: no readings are there yet");
}

TEST_CASE("values of other checks that are of another kind than expected are noticed") {
    CHECK(evaluated("value('done') at least 3 K") ==
          "trouble: a comparison of two different kinds of value");
    CHECK(evaluated("value('done') + 3 K") == "trouble: a sum of two different kinds of quantity");
    CHECK(evaluated("answer('done') + 3") == "trouble: a word where a number is needed");
}

TEST_CASE("readings over time give first, last, extremes, mean and the late part") {
    const Facts facts;
    const Context context{facts, no_library, "2027-03-04", {}, {}, {}, {}};
    const auto kelvin = [](double v) { return units::Amount::of(v, *units::unit_named("K")); };
    const PointTable points{{"riser", "downcomer"},
                            {0, 300, 600, 900},
                            {{kelvin(20), kelvin(19)},
                             {kelvin(30), kelvin(31)},
                             {kelvin(40), kelvin(33)},
                             {kelvin(50), kelvin(35)}}};
    const Given given{context, {}, &points};
    const auto value = [&](const std::string& text) {
        const auto e = Expression::parse(text);
        REQUIRE(e);
        return shown(evaluate(*e, given));
    };
    CHECK(value("first(riser)") == "20");
    CHECK(value("last(riser) - last(downcomer)") == "15");
    CHECK(value("largest(riser - downcomer)") == "15");
    CHECK(value("smallest(riser - downcomer)") == "-1");
    CHECK(value("smallest_late(5 min, riser - downcomer)") == "7");
    CHECK(value("mean(downcomer)") == "29.5");
    CHECK(value("count(riser)") == "4");
    CHECK(value("duration(riser) is 15 min") == "yes");
}

TEST_CASE("a derived value is worked out once, however often an expression names it") {
    // The rise over the loop is made of the sun of that check alone, so each asking is one working out.
    const Facts facts;
    int asked = 0;
    double sun = 800;
    Context context{facts, no_library, "2027-03-04", {}, {}, {}, {}};
    context.value_of = [&](const CheckId& id) {
        if (id.text != "sun-window") return std::optional<units::Amount>{};
        ++asked;
        return std::optional{units::Amount::of(sun, *units::unit_named("W/m²"))};
    };
    const auto sum = Expression::parse("d.dt_loop_exp + d.dt_loop_exp + d.dt_loop_exp");
    const auto one = Expression::parse("3 * d.dt_loop_exp");
    REQUIRE(sum);
    REQUIRE(one);
    const auto value = [&](const Expression& e) { return shown(evaluate(e, {context, {}, nullptr})); };

    const auto bright = value(*sum);
    CHECK(asked == 1);
    CHECK(value(*one) == bright);
    CHECK(asked == 2);
    sun = 400;
    CHECK(value(*sum) != bright);
    CHECK(asked == 3);

    DerivedValues kept{facts, no_library, context.value_of};
    context.derived = &kept;
    const auto dim = value(*sum);
    CHECK(dim != bright);
    CHECK(value(*one) == dim);
    CHECK(asked == 4);
    CHECK(kept.count() == 1);
}

}  // namespace wm::checklist
