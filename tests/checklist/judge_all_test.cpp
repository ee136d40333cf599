#include "checklist/judge_all.hpp"

#include <doctest/doctest.h>

#include "checklist/testing.hpp"

namespace wm::checklist {
namespace {

ReadingInput at(std::string place, std::string text) {
    return {std::move(place), std::move(text), std::nullopt, PhotoState::Missing};
}

}  // namespace

TEST_CASE("a required part keeps the check open, a failed part fails it") {
    const auto library = testing::library_with({"survey.toml"});
    Facts facts;
    for (const auto& value : library.checklists.front().example_facts) facts.set(value);
    const Context context{facts, library, "2027-03-04", {}, {}, {}, {}};
    const auto& supply = *library.find(CheckId{"water-supply"});
    const auto outcome = [&](const std::vector<ReadingInput>& latest) {
        return judge_whole(supply, latest, context)->outcome;
    };
    CHECK(outcome({}) == Outcome::Open);
    CHECK(outcome({at("", "310 kPa")}) == Outcome::Open);
    CHECK(outcome({at("", "310 kPa"), at("flow", "12 L/min")}) == Outcome::Conforms);
    CHECK(outcome({at("", "310 kPa"), at("flow", "6 L/min")}) == Outcome::DoesNotConform);
    CHECK(judge_whole(supply, {at("", "310 kPa")}, context)->missing_places ==
          std::vector<std::string>{"flow"});
}

TEST_CASE("a part is waited for only in the house and after the answer it belongs to") {
    const auto library = testing::library_with({"commissioning.toml"});
    Facts facts;
    for (const auto& value : library.checklists.front().example_facts) facts.set(value);
    const Context context{facts, library, "2027-03-04", {}, {}, {}, {}};
    const auto& room = *library.find(CheckId{"expansion-room"});
    using Names = std::vector<std::string>;
    CHECK(needed_places(room, context, {}).places == Names{""});
    CHECK(needed_places(room, context, {at("", "back to main")}).places == Names{""});
    CHECK(needed_places(room, context, {at("", "vessel")}).places == Names{"", "vessel size", "precharge"});
    CHECK(part_applies(room, room.parts[0], context, {}).answer == Applies::Unknown);
    CHECK(part_applies(room, room.parts[0], context, {at("", "back to main")}).answer == Applies::No);
    // By a fact: shown where there is a jacket, and what is not known yet stays unknown.
    const auto& relief = *library.find(CheckId{"relief-capacity"});
    const Facts none;
    const Context unknown{none, library, "2027-03-04", {}, {}, {}, {}};
    CHECK(part_applies(relief, relief.parts[0], context, {}).answer == Applies::Yes);
    CHECK(part_applies(relief, relief.parts[0], unknown, {}).missing.facts == Names{"sys.kind"});
    facts.set(*read_fact("sys.kind", "direct"));
    CHECK(part_applies(relief, relief.parts[0], context, {}).answer == Applies::No);
    // A part that must be answered waits for the fact it hangs on.
    const auto service = testing::library_with({"service.toml"});
    const Context visit{none, service, "2027-03-04", {}, {}, {}, {}};
    CHECK(needed_places(*service.find(CheckId{"svc-electric"}), visit, {}).missing.facts == Names{"elec.rcd_ma"});
}

// Stainless A2 corrodes in the air of the sea: common practice, no source.
TEST_CASE("an accepted word of a part must fit the house where the list says so") {
    const auto library = testing::library_with({"kit.toml"});
    Facts facts;
    for (const auto& value : library.checklists.front().example_facts) facts.set(value);
    const Context context{facts, library, "2027-03-04", {}, {}, {}, {}};
    const auto& fixings = *library.find(CheckId{"kit-fixings"});
    const auto outcome = [&](const char* distance, const char* grade) {
        facts.set(*read_fact("site.sea_km", distance));
        return judge_whole(fixings, {at("", "30"), at("grade", grade)}, context)->outcome;
    };
    CHECK(outcome("4.9", "A2") == Outcome::DoesNotConform);
    CHECK(outcome("5", "A2") == Outcome::Conforms);
    CHECK(outcome("0.1", "A4") == Outcome::Conforms);
    CHECK(outcome("100", "plain steel") == Outcome::DoesNotConform);
}

TEST_CASE("a mean over all places is judged once all are there") {
    const auto library = testing::library_with({"survey.toml"});
    Facts facts;
    for (const auto& value : library.checklists.front().example_facts) facts.set(value);
    const Context context{facts, library, "2027-03-04", {}, {}, {}, {}};
    const auto& shade = *library.find(CheckId{"sun-shade"});
    const std::vector<ReadingInput> four{at("9", "4"), at("10:30", "2"), at("12", "0"),
                                         at("13:30", "3")};
    CHECK(judge_whole(shade, four, context)->outcome == Outcome::Open);
    auto five = four;
    five.push_back(at("15", "6"));
    const auto good = judge_whole(shade, five, context);
    CHECK(good->outcome == Outcome::Conforms);
    CHECK(good->measured->in(*units::unit_named("%")) == doctest::Approx(3));
    five[0].text = "60";
    five[1].text = "40";
    const auto dark = judge_whole(shade, five, context);
    CHECK(dark->outcome == Outcome::DoesNotConform);
    CHECK(dark->band == Band::ConcessionPossible);
}

TEST_CASE("what is allowed where no number is asked for is said in words") {
    const auto library = testing::library_with({"commissioning.toml"});
    const Facts facts;
    const Context context{facts, library, "2027-03-04", {}, {}, {}, {}};
    CHECK(limits_for(*library.find(CheckId{"fall-protection"}), "", context).text == "yes");
    CHECK(limits_for(*library.find(CheckId{"relief-lever"}), "", context).text ==
          "flows and closes");
}

}  // namespace wm::checklist
