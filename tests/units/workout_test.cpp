#include "units/workout.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace wm::units;
using wm::ProblemKind;
using Texts = std::vector<std::pair<std::string, std::string>>;

namespace {

// Gives back what was read, so that the tests can look at it.
Computation echo(std::vector<Symbol> inputs) {
    return {.name = "echo",
            .title = "Echo",
            .on_site = "",
            .equation = "",
            .source = "",
            .range = "any.",
            .inputs = std::move(inputs),
            .outputs = {},
            .evaluate = [](const Arguments& a) -> wm::Result<std::vector<Output>> {
                std::vector<Output> all;
                for (const auto& [name, value] : a)
                    if (const auto* number = std::get_if<double>(&value))
                        all.push_back({name, "", *number});
                return all;
            }};
}

Symbol number(std::string unit) {
    return {.name = "x", .unit = std::move(unit), .meaning = "the value"};
}

wm::Result<double> read(const std::string& unit, const std::string& text) {
    const auto arguments = read_arguments(echo({number(unit)}), {{"x", text}});
    if (!arguments) return tl::unexpected(arguments.error());
    return number_of(*arguments, "x");
}

Symbol shaped(Shape shape, std::string unit = "") {
    return {.name = "x",
            .unit = std::move(unit),
            .meaning = "the values",
            .optional = false,
            .shape = shape,
            .range = ""};
}

}  // namespace

TEST_CASE("a text is converted to the unit of its symbol, a bare number is in it already") {
    struct Row {
        const char *unit, *text;
        double value;
    };
    for (const Row row : {Row{"°C", "60 °C", 60.0},
                          Row{"°C", "60 degC", 60.0},
                          Row{"°C", "60", 60.0},
                          Row{"°C", "300 K", 26.85},
                          Row{"K(abs)", "300 K", 300.0},
                          Row{"K(abs)", "300 K(abs)", 300.0},
                          Row{"K(abs)", "26.85 °C", 300.0},
                          Row{"K(abs)", "300", 300.0},
                          Row{"K", "5 K", 5.0},
                          Row{"Pa(abs)", "600 kPa", 6e5},
                          Row{"Pa(abs)", "6 bar(abs)", 6e5},
                          Row{"bar(g)", "3 bar(g)", 3.0},
                          Row{"bar(g)", "300 kPa", 3.0},
                          Row{"L", "0,15 m³", 150.0},
                          Row{"%", "20 % vol", 20.0},
                          Row{"", "40 %", 0.4},
                          Row{"kPa", "1 bar", 100.0},
                          Row{"m", "22 mm", 0.022},
                          Row{"Ω", "1200 mΩ", 1.2},
                          Row{"N·m", "20 N m", 20.0}}) {
        CAPTURE(row.unit);
        CAPTURE(row.text);
        const auto value = read(row.unit, row.text);
        REQUIRE(value);
        CHECK(*value == doctest::Approx(row.value).epsilon(1e-12));
    }
}

TEST_CASE("the wrong dimension, the wrong side of a pressure and no number at all are refused") {
    struct Row {
        const char *unit, *text, *what;
    };
    for (const Row row :
         {Row{"°C", "3 bar", "\"3 bar\" is a pressure, but a temperature is wanted here."},
          Row{"K", "5 °C",
              "\"5 °C\" is a temperature, but a temperature difference is wanted here."},
          Row{"Pa(abs)", "600 kPa(g)",
              "\"600 kPa(g)\" is a gauge pressure, but an absolute pressure is wanted here."},
          Row{"bar(g)", "3 bar(abs)",
              "\"3 bar(abs)\" is an absolute pressure, but a gauge pressure is wanted here."},
          Row{"", "3 kg", "\"3 kg\" is a mass, but a number is wanted here."},
          Row{"m", "NaN", "\"NaN\" is not a number."}, Row{"m", "inf", "\"inf\" is not a number."},
          Row{"m", "", "\"\" is not a number."},
          Row{"m", "3 furlong", "\"furlong\" is not a unit this tool knows."}}) {
        CAPTURE(row.text);
        const auto value = read(row.unit, row.text);
        REQUIRE(!value);
        CHECK(value.error().what == row.what);
        CHECK(value.error().where == "work-out echo, x");
        CHECK(value.error().kind == ProblemKind::Unreadable);
        CHECK(!value.error().what_to_do.empty());
    }
}

TEST_CASE("unknown, doubled and missing symbols are named") {
    const auto table = echo({number("m")});
    const auto unknown = read_arguments(table, {{"x", "1"}, {"y", "2"}});
    REQUIRE(!unknown);
    CHECK(told(unknown.error()) ==
          "work-out echo: \"y\" is no input of this computation.\nIts inputs are x.");
    const auto doubled = read_arguments(table, {{"x", "1"}, {"x", "2"}});
    REQUIRE(!doubled);
    CHECK(doubled.error().what == "\"x\" is given twice.");
    const auto missing = read_arguments(table, {});
    REQUIRE(!missing);
    CHECK(told(missing.error()) ==
          "work-out echo: The input x is missing.\nGive x=\"… m\": the value.");
    CHECK(missing.error().kind == ProblemKind::WrongUse);
}

TEST_CASE("lists take one unit behind the bracket or one per item") {
    struct Row {
        const char* text;
        std::vector<double> values;
    };
    for (const Row& row : {Row{"[0, 5, 10] min", {0, 5, 10}}, Row{"[0,5,10]", {0, 5, 10}},
                           Row{"[0 s, 300 s]", {0, 5}}, Row{"[0,5; 1,5] min", {0.5, 1.5}},
                           Row{"[-1e-3]", {-1e-3}}, Row{"50 each", {50}}, Row{"120 s", {2}}}) {
        CAPTURE(row.text);
        const auto arguments =
            read_arguments(echo({shaped(Shape::List, "min")}), {{"x", row.text}});
        REQUIRE(arguments);
        const auto& values = list_of(*arguments, "x");
        REQUIRE(values.size() == row.values.size());
        for (std::size_t i = 0; i < values.size(); ++i)
            CHECK(values[i] == doctest::Approx(row.values[i]).epsilon(1e-12));
    }
    for (const char* text : {"[]", "[1, 2", "[1, x]", "[1,, 2]", "[1] kPa", "[nan]"}) {
        CAPTURE(text);
        CHECK(!read_arguments(echo({shaped(Shape::List, "min")}), {{"x", text}}));
    }
}

TEST_CASE("tables are rows of lists") {
    const auto arguments =
        read_arguments(echo({shaped(Shape::Table)}), {{"x", "[[7, 23], [2, 38]]"}});
    REQUIRE(arguments);
    CHECK(table_of(*arguments, "x") == std::vector<std::vector<double>>{{7, 23}, {2, 38}});
    for (const char* text : {"[1, 2]", "[[1, 2]", "[[1, 2], 3]", "[[]]", "7"}) {
        CAPTURE(text);
        CHECK(!read_arguments(echo({shaped(Shape::Table)}), {{"x", text}}));
    }
}

TEST_CASE("dates are days of the calendar and moments become UTC") {
    const auto date = [](const char* text) {
        return read_arguments(echo({shaped(Shape::Date)}), {{"x", text}}).has_value();
    };
    CHECK(date("2024-02-29"));
    for (const char* text :
         {"2026-02-29", "2026-13-01", "26-01-01", "2026-1-1", "2026-06-21T00:00:00Z"}) {
        CAPTURE(text);
        CHECK(!date(text));
    }
    const auto moment = [](const char* text) -> std::string {
        const auto read = read_arguments(echo({shaped(Shape::Moment)}), {{"x", text}});
        return read ? text_of(*read, "x") : "refused";
    };
    CHECK(moment("2003-10-17T19:30:30Z") == "2003-10-17T19:30:30Z");
    CHECK(moment("2026-01-01T00:30:00+02:00") == "2025-12-31T22:30:00Z");
    CHECK(moment("2026-06-21T23:30:00-05:30") == "2026-06-22T05:00:00Z");
    for (const char* text : {"2026-06-21T05:30:00", "2026-06-21 05:30:00Z", "2026-06-21T24:00:00Z",
                             "2026-06-21T05:30:00+2", "2026-06-21"}) {
        CAPTURE(text);
        CHECK(moment(text) == "refused");
    }
}

TEST_CASE("flags are true or false, texts stay as they are, optional symbols may be left out") {
    const auto flag = read_arguments(echo({shaped(Shape::Flag)}), {{"x", "true"}});
    REQUIRE(flag);
    CHECK(flag_of(*flag, "x"));
    CHECK(!read_arguments(echo({shaped(Shape::Flag)}), {{"x", "maybe"}}));
    const auto text = read_arguments(echo({shaped(Shape::Text)}), {{"x", " isotropic "}});
    REQUIRE(text);
    CHECK(text_of(*text, "x") == "isotropic");
    auto optional = number("m");
    optional.optional = true;
    for (const Texts& texts : {Texts{}, Texts{{"x", "–"}}, Texts{{"x", ""}}}) {
        const auto without = read_arguments(echo({optional}), texts);
        REQUIRE(without);
        CHECK(!is_given(*without, "x"));
        CHECK(!number_if_given(*without, "x"));
    }
}

TEST_CASE("an answer that is no number becomes a problem that names the output") {
    auto table = echo({number("m")});
    table.evaluate = [](const Arguments&) -> wm::Result<std::vector<Output>> {
        return std::vector<Output>{{"y", "m", std::numeric_limits<double>::quiet_NaN()}};
    };
    const auto answer = work_out(table, {{"x", "1"}});
    REQUIRE(!answer);
    CHECK(answer.error().what == "These inputs give no number for y.");
    CHECK(work_out(echo({number("m")}), {{"x", "1"}}).has_value());
}

TEST_CASE("a computation is found by its name only") {
    const std::vector<Computation> table{echo({})};
    REQUIRE(computation_named(table, "echo"));
    CHECK(computation_named(table, "echo")->title == "Echo");
    CHECK(!computation_named(table, "Echo"));
}

TEST_CASE("where an equation holds in every unit, the answer stays in the one that was given") {
    Computation table;
    table.name = "in-any-unit";
    table.inputs = {{.name = "y", .unit = "any", .meaning = "the readings", .shape = Shape::List},
                    {.name = "limit", .unit = "like y", .meaning = "a limit"},
                    {.name = "u", .unit = "step of y", .meaning = "the uncertainty"}};

    const auto celsius =
        read_arguments(table, {{"limit", "333.15 K"}, {"u", "0.5 K"}, {"y", "[59, 61] °C"}});
    REQUIRE(celsius);
    CHECK(number_of(*celsius, "limit") == doctest::Approx(60.0));
    const auto places =
        read_arguments(table, {{"limit", "140 °F"}, {"u", "0.5 K"}, {"y", "[59 °C, 61 °C]"}});
    REQUIRE(places);
    CHECK(number_of(*places, "limit") == doctest::Approx(60.0));
    CHECK(unit_given(*places, "y") == "°C");
    CHECK(unit_given(*places, "u") == "K");
    CHECK(step_unit_given(*places, "y") == "K");
    const auto warm = read_arguments(table, {{"y", "[140] °F"}, {"limit", "60 °C"}, {"u", "1"}});
    REQUIRE(warm);
    CHECK(list_of(*warm, "y")[0] == doctest::Approx(60.0));
    CHECK(unit_given(*warm, "y") == "°C");
    const auto gauge = read_arguments(table, {{"y", "[1] bar(g)"}, {"limit", "2"}, {"u", "5 kPa"}});
    REQUIRE(gauge);
    CHECK(number_of(*gauge, "u") == doctest::Approx(0.05));
    CHECK(step_unit_given(*gauge, "y") == "bar");

    const auto mixed =
        read_arguments(table, {{"y", "[1 bar, 110 kPa] "}, {"limit", "1.2"}, {"u", "5 kPa"}});
    REQUIRE(mixed);
    CHECK(list_of(*mixed, "y")[1] == doctest::Approx(1.1));
    CHECK(number_of(*mixed, "limit") == 1.2);
    CHECK(number_of(*mixed, "u") == doctest::Approx(0.05));
    CHECK(unit_given(*mixed, "y") == "bar");

    const auto bare = read_arguments(table, {{"y", "[1, 2]"}, {"limit", "3"}, {"u", "0.1"}});
    REQUIRE(bare);
    CHECK(unit_given(*bare, "y").empty());
    CHECK_FALSE(read_arguments(table, {{"y", "[1, 2]"}, {"limit", "3 V"}, {"u", "0.1"}}));
    CHECK_FALSE(read_arguments(table, {{"y", "[1, 2] V"}, {"limit", "3 kPa"}, {"u", "0.1"}}));
    CHECK_FALSE(read_arguments(table, {{"y", "[1, 2] furlongs"}, {"limit", "3"}, {"u", "0.1"}}));
}

TEST_CASE("a figure beyond anything that is measured is refused, in whatever unit it comes") {
    CHECK(read("m", "1e18 m") == 1e18);
    CHECK(!read("m", "1.1e18 m"));
    CHECK(!read("mm", "1e16 m"));
    CHECK(!read("m", "-1e300 m"));
    CHECK(!read("m", "1e-31 m"));
    CHECK(read("m", "0 m") == 0.0);
    CHECK(read("", "1e-300") == 1e-300);
}

TEST_CASE("an infinite answer is refused where the symbol is not unbounded") {
    auto computation = echo({number("")});
    computation.evaluate = [](const Arguments&) -> wm::Result<std::vector<Output>> {
        return std::vector<Output>{{"M", "", std::numeric_limits<double>::infinity()}};
    };
    computation.outputs = {Symbol{.name = "M", .unit = "", .meaning = "the weight"}};
    CHECK(!work_out(computation, {{"x", "1"}}));
    computation.outputs.front().unbounded = true;
    CHECK(work_out(computation, {{"x", "1"}}));
}
