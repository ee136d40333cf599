#include "record/actions.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "record/testing.hpp"

using namespace wm::record;
using namespace wm::record::testing;

namespace {

ActionDecided decided(const std::string& number) {
    return {number, "crew and check", committed("Tindo"), "ins-ends", "2027-W09", "skill", committed("No collars."),
            committed("Show how."), committed("Odrun"), "2027-03-18", "", {}};
}

EffectChecked effect(const std::string& number, std::int64_t days, EffectVerdict verdict) {
    EffectChecked checked{};
    checked.action = number;
    checked.after_days = days;
    checked.verdict = verdict;
    return checked;
}

}  // namespace

TEST_CASE("an action that was carried out stays open until a late check says that it helped") {
    Device office{'a'};
    office.write("", decided("A-1"));
    CHECK_FALSE(office_of(office.all()).action("A-1")->is_closed());
    office.write("", ActionDone{"A-1", "2027-03-10", {}, {}});
    CHECK_FALSE(office_of(office.all()).action("A-1")->is_closed());
    office.write("", effect("A-1", 30, EffectVerdict::Helped));
    CHECK_FALSE(office_of(office.all()).action("A-1")->is_closed());
    for (const auto verdict : {EffectVerdict::NoProof, EffectVerdict::Worse}) {
        office.write("", effect("A-1", 90, verdict));
        CHECK_FALSE(office_of(office.all()).action("A-1")->is_closed());
    }
    office.write("", effect("A-1", 90, EffectVerdict::Helped));
    const auto state = office_of(office.all());
    CHECK(state.action("A-1")->is_closed());
    CHECK(state.action("A-1")->effects.size() == 4);
    CHECK(state.action("A-1")->effect_after(90)->verdict == EffectVerdict::Helped);
    CHECK(state.action("A-1")->effect_after(30)->verdict == EffectVerdict::Helped);
    CHECK(state.action("A-1")->effect_after(60) == nullptr);
    CHECK(state.action("A-2") == nullptr);
}

TEST_CASE("a late check that takes back what an earlier one said opens the action again") {
    Device office{'a'};
    office.write("", decided("A-1"));
    office.write("", effect("A-1", 90, EffectVerdict::Helped));
    office.write("", effect("A-1", 90, EffectVerdict::Worse));
    CHECK_FALSE(office_of(office.all()).action("A-1")->is_closed());
    office.write("", ActionEnded{"A-1", committed("The crew is gone."), {}});
    CHECK(office_of(office.all()).action("A-1")->is_closed());
}

TEST_CASE("the fold of the office is the same whichever device's entries come first") {
    Device office{'a'};
    Device tablet{'b', 1'800'000'900'000};
    office.write("", decided("A-1"));
    tablet.write("", decided("B-1"));
    tablet.receive(office);
    tablet.write("", ActionDone{"A-1", "2027-03-10", {}, {}});
    tablet.write("", InstrumentDoubted{"PG-4", "2027-01-04", "", "", committed("Fell."), {}});
    office.write("", BatchDoubted{"RV-K17", committed("Levers stick."), {}});
    std::vector<Written> all = office.all();
    all.insert(all.end(), tablet.all().begin(), tablet.all().end());
    std::vector<Written> other{all.rbegin(), all.rend()};
    const auto one = office_of(in_order(all));
    const auto two = office_of(in_order(other));
    REQUIRE(one.actions.size() == 2);
    REQUIRE(two.actions.size() == 2);
    for (std::size_t i = 0; i < 2; ++i) {
        CHECK(one.actions[i].decided == two.actions[i].decided);
        CHECK(one.actions[i].done.has_value() == two.actions[i].done.has_value());
    }
    CHECK(one.action("A-1")->done->second.on == "2027-03-10");
    CHECK(one.doubted_instruments.size() == 1);
    CHECK(one.doubted_batches.size() == 1);
    CHECK(one.doubted_batches.front().second.batch == "RV-K17");
}

TEST_CASE("what speaks of an action that never came is passed over, and an action is decided once") {
    Device office{'a'};
    office.write("", ActionDone{"A-9", "2027-03-10", {}, {}});
    auto again = decided("A-1");
    office.write("", decided("A-1"));
    again.cause = "material";
    office.write("", again);
    const auto state = office_of(office.all());
    REQUIRE(state.actions.size() == 1);
    CHECK(state.actions.front().decided.cause == "skill");
}
