#include "desk/usual_reading.hpp"

#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

#include "checklist/testing.hpp"

namespace wm::desk {
namespace {

using checklist::ReadingInput;
using Words = std::vector<std::pair<std::string, std::string>>;

/// The house of the list's examples, with what differs in it.
std::optional<double> usual(const std::string& list_file, const std::string& id, const std::string& place, const Words& changes = {},
                            const std::vector<ReadingInput>& latest = {}) {
    const auto library = checklist::testing::library_with({list_file});
    const auto& list = library.checklists.front();
    const auto* check = list.find(checklist::CheckId{id});
    REQUIRE_MESSAGE(check, id);
    checklist::Facts facts;
    for (const auto& fact : list.example_facts) facts.set(fact);
    for (const auto& [key, text] : changes) {
        auto value = checklist::read_fact(key, text);
        REQUIRE_MESSAGE(value, key);
        facts.set(*std::move(value));
    }
    const checklist::Context context{facts, library, list.date, {}, {}, {}, {}};
    return usual_reading({list, *check, place, checklist::limits_for(*check, place, context), latest}, context);
}

ReadingInput read(const std::string& place, const std::string& text) { return {place, text, std::nullopt, checklist::PhotoState::Attached}; }

}  // namespace

// Expected figures are those of the examples in checklists/.

TEST_CASE("a conforming example says what is usual, and a part has its own") {
    CHECK(*usual("commissioning.toml", "insulation-res", "") == doctest::Approx(50.0));
    CHECK(*usual("commissioning.toml", "rcd-trip", "") == doctest::Approx(28.0));
    CHECK(*usual("service.toml", "svc-electric", "insulation") == doctest::Approx(20.0));
}

TEST_CASE("a target is more usual than an example") {
    CHECK(*usual("commissioning.toml", "anchor-torque", "1") == doctest::Approx(20.0));
}

TEST_CASE("what the other places read is more usual than all else, what the parts read is not asked") {
    const std::vector<ReadingInput> latest{read("hot", "18 m"), read("drain", "17 m"), read("cold", "19 m"), read("preheated run", "2 m")};
    CHECK(*usual("survey.toml", "pipe-route", "hot", {}, latest) == doctest::Approx(19.0));
    CHECK(*usual("survey.toml", "pipe-route", "hot", {}, {read("preheated run", "2 m")}) == doctest::Approx(6.2));
}

TEST_CASE("a bearing is usual on the side of the sun") {
    CHECK(*usual("survey.toml", "sun-azimuth", "") == doctest::Approx(205.0));
    CHECK(*usual("survey.toml", "sun-azimuth", "", {{"site.latitude", "-18"}}) == doctest::Approx(350.0));
}

TEST_CASE("without an example the limit speaks, and without one the middle of what is plausible") {
    CHECK(*usual("service.toml", "svc-outlet-temp", "change since last visit") == doctest::Approx(0.6 * 3.0));
    CHECK(*usual("survey.toml", "roof-free-area", "width") == doctest::Approx((1.0 + 20.0) / 2.0));
}

TEST_CASE("where a word is asked nothing is usual") {
    CHECK_FALSE(usual("commissioning.toml", "collector-covered", ""));
}

}  // namespace wm::desk
