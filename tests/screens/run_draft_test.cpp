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
