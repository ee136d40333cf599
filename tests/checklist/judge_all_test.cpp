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
