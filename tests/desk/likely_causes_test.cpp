#include "desk/likely_causes.hpp"

#include "desk/complaints.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using namespace testing;

namespace {

struct Lists {
    std::shared_ptr<const checklist::Library> library = read_library(shipped_texts()).value();
    checklist::FailureList failures =
        checklist::load_failures(shipped_texts().find("failures.toml")->second, "failures.toml", *library).value();
};

const Lists& lists() {
    static const Lists all;
    return all;
}

std::vector<LikelyCauseView> causes(const HouseRecord& record, const ComplaintSigns& signs) {
    return likely_causes(lists().failures, *lists().library, record, signs, [](const checklist::FailureMode&) { return true; });
}

const LikelyCauseView& one(const std::vector<LikelyCauseView>& all, const std::string& failure) {
    for (const auto& cause : all)
        if (cause.failure == failure) return cause;
    FAIL("no cause " << failure);
    return all.front();
}

CatchView standing(const std::string& check, const std::string& state) { return {.check = check, .title = check, .job = "J-1", .state = state, .words = ""}; }

}  // namespace

TEST_CASE("shares are weight over sum of weights, as worked out by hand from the list") {
    // "too-hot": discharge-short 1, summer-boil 2, scald 4. Worked out by hand; the weights are common practice, no source.
    const auto plain = causes({}, {.symptom = "too-hot"});
    REQUIRE(plain.size() == 3);
    CHECK(one(plain, "scald").share == doctest::Approx(4.0 / 7.0));
    CHECK(one(plain, "summer-boil").share == doctest::Approx(2.0 / 7.0));
    // July in the north: heat and sun come twice as often; outlet-temp failed once and was put right: twice again.
    const auto in_july = causes({{"outlet-temp", standing("outlet-temp", "put right")}}, {.symptom = "too-hot", .air_c = {}, .month = 7});
    CHECK(one(in_july, "scald").share == doctest::Approx(16.0 / 21.0));
    CHECK(one(in_july, "summer-boil").share == doctest::Approx(4.0 / 21.0));
    // In the south July is winter: heat seldom, and the sun makes nothing likelier.
    const auto in_south = causes({}, {.symptom = "too-hot", .air_c = {}, .month = 7, .southern = true});
    CHECK(one(in_south, "summer-boil").share == doctest::Approx(1.0 / 6.0));
    // Three such complaints came down to a short discharge before: 1 + 3.
    const auto known = causes({}, {.symptom = "too-hot", .air_c = {}, .month = 0, .southern = false, .taken_for_frost_free = false,
                                   .closed_before = {{"discharge-short", 3}}});
    CHECK(one(known, "discharge-short").share == doctest::Approx(4.0 / 10.0));
}

TEST_CASE("the check that speaks most against the house counts, and two of a kind count once") {
    const HouseRecord one_unread{{"hook-gap", standing("hook-gap", "never read")}};
    const HouseRecord one_right{{"hook-gap", standing("hook-gap", "never read")}, {"roof-hose", standing("roof-hose", "conforms")}};
    const HouseRecord two_right{{"hook-gap", standing("hook-gap", "never read")}, {"roof-hose", standing("roof-hose", "conforms")},
                                {"covering-back", standing("covering-back", "conforms")}};
    const HouseRecord two_unread{{"hook-gap", standing("hook-gap", "never read")}, {"roof-hose", standing("roof-hose", "never read")}};
    const HouseRecord failed{{"hook-gap", standing("hook-gap", "never read")}, {"roof-hose", standing("roof-hose", "does not conform")}};
    const double share = one(causes(one_unread, {.symptom = "wet"}), "roof-leak").share;
    CHECK(one(causes(two_unread, {.symptom = "wet"}), "roof-leak").share == doctest::Approx(share));
    CHECK(one(causes(failed, {.symptom = "wet"}), "roof-leak").share > share);
    CHECK(one(causes(one_right, {.symptom = "wet"}), "roof-leak").share < share);
    CHECK(one(causes(two_right, {.symptom = "wet"}), "roof-leak").share == doctest::Approx(one(causes(one_right, {.symptom = "wet"}), "roof-leak").share));
    CHECK(one(causes({{"hook-gap", standing("hook-gap", "conforms")}}, {.symptom = "wet"}), "roof-leak").share <
          one(causes({}, {.symptom = "wet"}), "roof-leak").share);
    CHECK(one(causes(failed, {.symptom = "wet"}), "roof-leak").checks.front().check == "roof-hose");
}

TEST_CASE("frost that was told makes frost likelier, a mild day makes it unlikelier, and in between says nothing") {
    const auto share = [](double air) { return one(causes({}, {.symptom = "wet", .air_c = air}), "frost-cold-feed").share; };
    const double unknown = one(causes({}, {.symptom = "wet"}), "frost-cold-feed").share;
    CHECK(share(-6.0) > unknown);
    CHECK(share(2.0) > unknown);  // a clear sky freezes above 0 °C
    CHECK(share(4.0) == doctest::Approx(unknown));
    CHECK(share(12.0) < unknown);
}

TEST_CASE("what the house cannot have is left out, and each check to repeat is named once") {
    const auto some = likely_causes(lists().failures, *lists().library, {}, {.symptom = "wet"},
                                    [](const checklist::FailureMode& failure) { return failure.id != "jacket-first"; });
    double sum = 0.0;
    for (const auto& cause : some) {
        CHECK(cause.failure != "jacket-first");
        sum += cause.share;
    }
    CHECK(sum == doctest::Approx(1.0));
    std::vector<std::string> seen;
    for (const auto& row : checks_to_repeat(some)) {
        CHECK(std::find(seen.begin(), seen.end(), row.check) == seen.end());
        seen.push_back(row.check);
    }
    CHECK(std::find(seen.begin(), seen.end(), "hook-gap") != seen.end());
}

}  // namespace wm::desk
