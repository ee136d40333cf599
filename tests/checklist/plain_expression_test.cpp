#include "checklist/plain_expression.hpp"

#include <doctest/doctest.h>

#include "checklist/loader.hpp"
#include "checklist/testing.hpp"

namespace wm::checklist {
namespace {

std::string demand(const char* text, std::initializer_list<std::pair<std::string_view, std::string_view>> facts = {}) {
    const auto known = testing::facts_with(facts);
    const Library library;
    const Context context{known, library, "2027-03-04", {}, {}, {}, {}};
    const auto e = Expression::parse(text);
    REQUIRE(e);
    return demand_in_words(*e, {context, {}, nullptr});
}

}  // namespace

TEST_CASE("a demand says what is asked of the reading and nothing of signs and functions") {
    CHECK(demand("reading at most max(10 kPa, 0.02 * first)") == "at most the larger of 10 kPa and 2 % of the first reading");
    CHECK(demand("reading between 0.4 * d.x and 2.5 * d.x").find('*') == std::string::npos);
    CHECK(demand("reading is 0 V") == "exactly 0 V");
    CHECK(demand("reading is one of ('dry', 'weeps')") == "dry or weeps");
    CHECK(demand("reading within 10 % of sys.anchor_nm") == "within 10 % of tightening torque of the store anchors");
    CHECK(demand("reading more than (1 m + 2 m) * 3") == "more than (1 m + 2 m) × 3");
    CHECK(demand("reading at least -1 * 60 s") == "at least −60 s");
}

TEST_CASE("a branch that the facts decide is followed, an undecided one is told whole") {
    const char* text = "if sys.kind is 'direct' then reading at most 200 mg/L else yes";
    CHECK(demand(text) == "at most 200 mg/L if kind of the set is direct, otherwise nothing is demanded");
    CHECK(demand(text, {{"sys.kind", "direct"}}) == "at most 200 mg/L (as kind of the set is direct)");
    CHECK(demand(text, {{"sys.kind", "indirect"}}) == "nothing is demanded (as kind of the set is not direct)");
}

TEST_CASE("a number worked out of readings is told as far as it is worked out, and no further") {
    const auto said = [](const char* text, std::initializer_list<std::pair<std::string_view, std::string_view>> facts) {
        const auto known = testing::facts_with(facts);
        const Library library;
        const Context context{known, library, "2027-03-04", {}, {}, {}, {}};
        const auto e = Expression::parse(text);
        REQUIRE(e);
        return number_in_words(*e, {context, {}, nullptr});
    };
    const char* fall = "first - smallest + (if (known(sys.air_free) and sys.air_free is yes) "
                       "then full_rise(water_start, water_end) else 0 kPa)";
    CHECK(said(fall, {}) == "the fall from the first reading to the smallest");
    CHECK(said(fall, {{"sys.air_free", "no"}}) == "the fall from the first reading to the smallest");
    CHECK(said(fall, {{"sys.air_free", "yes"}}) ==
          "the fall from the first reading to the smallest + the rise that warming from water start to water end gives "
          "locked-in water");
    CHECK(said("largest - first", {}) == "the rise from the first reading to the largest");
    // Left open by the facts: told whole.
    CHECK(said("1 kPa + (if sys.kind is 'direct' then 2 kPa else 0 kPa)", {}) ==
          "1 kPa + 2 kPa if kind of the set is direct, otherwise 0 kPa");
    CHECK(said("if sys.kind is 'direct' then 2 kPa else 0 kPa", {{"sys.kind", "indirect"}}) == "0 kPa");
}

TEST_CASE("brackets stand where two readings are possible") {
    const auto e = Expression::parse("sys.feed is 'vented' or (house.taps more than 2 and not known(sys.mount))");
    const auto said = e ? expression_in_words(*e, e->root()) : std::string{};
    CHECK(said.find("or (") != std::string::npos);
    CHECK(said.ends_with("way of mounting is not known)"));
}

TEST_CASE("no tolerance of the shipped checklists shows a function, a sign of the language or the name of a fact") {
    const auto library = testing::library_with({"commissioning.toml", "survey.toml", "kit.toml", "service.toml"});
    const Facts nothing;
    const Context context{nothing, library, "2027-03-04", {}, {}, {}, {}};
    int said = 0;
    for (const auto& list : library.checklists)
        for (const auto& check : list.checks) {
            if (!check.tolerance) continue;
            const auto words = demand_in_words(*check.tolerance, {context, {}, nullptr});
            CAPTURE(check.id.text);
            CAPTURE(words);
            ++said;
            for (const auto* forbidden : {"*", "max(", "min(", "known(", "ceil(", "setting.", "d.", "sys.", "commissioning(", "_"})
                CHECK(words.find(forbidden) == std::string::npos);
        }
    CHECK(said > 60);
}

}  // namespace wm::checklist
