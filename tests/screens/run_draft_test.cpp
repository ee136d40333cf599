// Drafts and the requests made of them.
#include "screens/run_draft.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("going to a check forgets what was typed for another") {
    RunDraft draft;
    draft.value = "12";
    draft.done = "tightened";
    draft.photo_path = "a.jpg";
    draft.sure = true;
    go_to_check(draft, testing::torque_check());
    CHECK(draft.value.empty());
    CHECK(draft.done.empty());
    CHECK(draft.photo_path.empty());
    CHECK_FALSE(draft.sure);
    CHECK(draft.place == "2");
    CHECK(draft.instrument == "TW-1");
}

TEST_CASE("a reading with a picture is sent with the path of the picture") {
    RunDraft draft;
    const desk::CheckView check = testing::pressure_check();
    go_to_check(draft, check);
    draft.photo_path = "pictures/gauge.jpg";
    draft.caption = "gauge";
    Requests requests;
    save_reading(check, "478", draft, requests);
    REQUIRE(requests.size() == 1);
    const auto* with = std::get_if<WithPhoto>(&requests.front());
    REQUIRE(with != nullptr);
    CHECK(with->path == "pictures/gauge.jpg");
    const auto* reading = std::get_if<desk::TakeReading>(&with->intent);
    REQUIRE(reading != nullptr);
    CHECK(reading->caption == "gauge");
}

TEST_CASE("the form of a part goes before the form of its check") {
    desk::CheckView check = testing::torque_check();
    check.places[1].form = desk::EntryForm::YesNo;
    RunDraft draft;
    go_to_check(draft, check);
    CHECK(form_at_hand(check, draft) == desk::EntryForm::YesNo);
    draft.place = "3";
    CHECK(form_at_hand(check, draft) == desk::EntryForm::Number);
}

TEST_CASE("an answer in words names no instrument, a number names the one at hand") {
    desk::CheckView check = testing::torque_check();
    check.places[1].form = desk::EntryForm::YesNo;
    for (const auto& [place, instrument] : {std::pair{"2", ""}, std::pair{"3", "TW-1"}}) {
        RunDraft draft;
        go_to_check(draft, check);
        draft.place = place;
        Requests requests;
        save_reading(check, "20", draft, requests);
        REQUIRE(requests.size() == 1);
        const auto* intent = std::get_if<desk::Intent>(&requests.front());
        REQUIRE(intent != nullptr);
        const auto* reading = std::get_if<desk::TakeReading>(intent);
        REQUIRE(reading != nullptr);
        CHECK(reading->instrument == instrument);
    }
}

TEST_CASE("what was typed comes back when its saving is refused, and is forgotten once it is saved") {
    const desk::CheckView check = testing::torque_check();
    for (const bool refused : {true, false}) {
        CAPTURE(refused);
        RunDraft draft;
        go_to_check(draft, check);
        draft.place = "2";
        draft.mode = RunMode::Correcting;
        draft.value = "20.1";
        draft.done = "Thread cleaned";
        Requests requests;
        save_reading(check, "20.1 N·m", draft, requests);
        CHECK(draft.value.empty());
        CHECK(draft.place == "2");
        World world = testing::sample_world();
        std::vector<SeriesRun> runs;
        world.saving = true;
        look_after_sent(world, draft, runs, requests);
        world.saving = false;
        if (refused) world.problem = Problem{"Full.", "journal.db", "Make room.", ProblemKind::NotStored};
        look_after_sent(world, draft, runs, requests);
        CHECK_FALSE(draft.sent);
        CHECK(draft.value == (refused ? "20.1" : ""));
        CHECK(draft.done == (refused ? "Thread cleaned" : ""));
        CHECK(draft.mode == (refused ? RunMode::Correcting : RunMode::Reading));
    }
}

TEST_CASE("a correction goes to the place that failed, wherever the eye was") {
    desk::CheckView check = testing::torque_check();
    for (auto& place : check.places) place.outcome = measure::Outcome::Open;
    check.places[0].outcome = measure::Outcome::DoesNotConform;
    RunDraft draft;
    go_to_check(draft, check);
    draft.place = check.places[2].name;
    go_to_fault(draft, check);
    CHECK(draft.place == check.places[0].name);
    check.places[2].outcome = measure::Outcome::Inconclusive;
    draft.place = check.places[2].name;
    go_to_fault(draft, check);
    CHECK(draft.place == check.places[2].name);
}
