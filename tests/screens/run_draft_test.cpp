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
        // One that was told before, and not read yet, says nothing of what was sent after it.
        world.problem = Problem{"Full.", "journal.db", "Make room.", ProblemKind::NotStored};
        world.problem_at = refused ? world.answered + 1 : world.answered;
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

namespace {

/// Saves `text` for a check and lets the desk answer that the check now has `outcome`.
struct SavedOne {
    World world = testing::sample_world();
    RunDraft draft;
    std::vector<SeriesRun> runs;
    Requests requests;
    std::string falls{};  ///< a check that the saved reading makes fail

    void save(const std::string& id, const char* text, measure::Outcome outcome, RunMode mode = RunMode::Reading) {
        auto& checks = world.job->checks;
        const auto check = std::find_if(checks.begin(), checks.end(), [&](const auto& each) { return each.id == id; });
        draft.job = world.job->row.job;
        go_to_check(draft, *check);
        draft.mode = mode;
        look_after_sent(world, draft, runs, requests);
        save_reading(*check, text, draft, requests);
        world.saving = true;
        look_after_sent(world, draft, runs, requests);
        check->outcome = outcome;
        for (auto& place : check->places) place.outcome = outcome;
        if (!falls.empty())
            for (auto& other : checks)
                if (other.id == falls) other.outcome = measure::Outcome::DoesNotConform;
        world.saving = false;
        look_after_sent(world, draft, runs, requests);
    }
    int rung(Tone tone) const {
        int count = 0;
        for (const auto& request : requests)
            if (const auto* ring = std::get_if<RingTone>(&request); ring != nullptr && ring->tone == tone) ++count;
        return count;
    }
};

}  // namespace

TEST_CASE("what conforms leads on by itself, leaves its receipt and can be gone back to") {
    SavedOne one;
    one.save("test-pressure", "450 kPa", measure::Outcome::Conforms);
    CHECK(one.draft.check != "test-pressure");
    REQUIRE(one.draft.receipt);
    CHECK(one.draft.receipt->check == "test-pressure");
    CHECK(one.draft.receipt->text == "450 kPa");
    CHECK(one.draft.receipt->outcome == measure::Outcome::Conforms);
    CHECK(one.rung(Tone::Conforms) == 1);
    CHECK(go_back(one.draft, *one.world.job));
    CHECK(one.draft.check == "test-pressure");
    CHECK_FALSE(go_back(one.draft, *one.world.job));
}

TEST_CASE("what does not conform or cannot tell stays on the glass, and each has its own tone") {
    SavedOne bad;
    bad.save("test-pressure", "300 kPa", measure::Outcome::DoesNotConform);
    CHECK(bad.draft.check == "test-pressure");
    CHECK(bad.rung(Tone::DoesNotConform) == 1);
    SavedOne unsure;
    unsure.save("coll-tilt", "31.6°", measure::Outcome::Inconclusive);
    CHECK(unsure.draft.check == "coll-tilt");
    CHECK(unsure.rung(Tone::Inconclusive) == 1);
    CHECK(unsure.rung(Tone::Conforms) == 0);
}

TEST_CASE("a reading that makes another check fail is told with it, and nobody is led away") {
    SavedOne one;
    one.falls = "coll-tilt";
    one.save("test-pressure", "450 kPa", measure::Outcome::Conforms);
    REQUIRE(one.draft.receipt);
    CHECK(one.draft.receipt->fallen.starts_with("Tilt"));
    CHECK(one.draft.check == "test-pressure");
    CHECK(one.rung(Tone::DoesNotConform) == 1);
    CHECK(one.rung(Tone::Conforms) == 0);
    // What failed before is no news.
    one.save("nut-marks", "yes", measure::Outcome::Conforms);
    CHECK(one.draft.receipt->fallen.empty());
}

TEST_CASE("nobody is led away from another check or from a value being typed") {
    SavedOne one;
    auto& checks = one.world.job->checks;
    one.draft.job = one.world.job->row.job;
    go_to_check(one.draft, checks[0]);
    save_reading(checks[0], "yes", one.draft, one.requests);
    one.world.saving = true;
    look_after_sent(one.world, one.draft, one.runs, one.requests);
    one.draft.value = "4";
    checks[0].outcome = measure::Outcome::Conforms;
    one.world.saving = false;
    look_after_sent(one.world, one.draft, one.runs, one.requests);
    CHECK(one.draft.check == "fall-protection");
    CHECK(one.draft.value == "4");
    CHECK(one.draft.receipt);
}

TEST_CASE("an answer that asks for more leads to what it asks for") {
    SavedOne one;
    auto& check = one.world.job->checks[0];
    one.draft.job = one.world.job->row.job;
    go_to_check(one.draft, check);
    save_reading(check, "vessel", one.draft, one.requests);
    one.world.saving = true;
    look_after_sent(one.world, one.draft, one.runs, one.requests);
    // The desk answers: the answer is fine, and now belongs more to the check.
    desk::PlaceView main;
    main.form = desk::EntryForm::YesNo;
    main.outcome = measure::Outcome::Conforms;
    desk::PlaceView size;
    size.name = "vessel size";
    size.form = desk::EntryForm::Number;
    check.places = {main, size};
    check.outcome = measure::Outcome::Open;
    one.world.saving = false;
    look_after_sent(one.world, one.draft, one.runs, one.requests);
    CHECK(one.draft.check == check.id);
    CHECK(one.draft.place == "vessel size");
}

TEST_CASE("what was done, a picture and words are laid aside at another check, and come back") {
    auto job = *testing::sample_world().job;
    auto& fails = job.checks[0];
    fails.outcome = measure::Outcome::DoesNotConform;
    RunDraft draft;
    draft.job = draft.unsaved_of = job.row.job;
    go_to_check(draft, fails);
    draft.mode = RunMode::Correcting;
    draft.done = "packed the left foot";
    draft.photo_path = "/photos/foot.jpg";
    draft.caption = "the foot";
    go_to_check(draft, job.checks[1]);
    CHECK(draft.done.empty());
    CHECK(draft.photo_path.empty());
    CHECK(draft.mode == RunMode::Reading);
    go_to_check(draft, fails);
    CHECK(draft.mode == RunMode::Correcting);
    CHECK(draft.done == "packed the left foot");
    CHECK(draft.photo_path == "/photos/foot.jpg");
    CHECK(draft.caption == "the foot");
}

TEST_CASE("a part is read on instruments of its own, the check on those of the check") {
    desk::CheckView check = testing::torque_check();
    desk::PlaceView part;
    part.name = "precharge";
    part.question = "What is the gas pressure?";
    part.form = desk::EntryForm::Number;
    part.unit = "kPa";
    part.instrument_type = "precharge gauge";
    check.places.push_back(part);
    RunDraft draft;
    go_to_check(draft, check);
    const std::string wrench = instrument_at_hand(check, draft);
    CHECK_FALSE(wrench.empty());
    draft.place = "precharge";
    CHECK(instrument_at_hand(check, draft).empty());
    CHECK(instrument_type_at_hand(check, draft) == "precharge gauge");
    check.places.back().instruments = {{.id = "VG-2", .type = "precharge gauge", .label = "", .due = "", .uncertainty = "5 kPa"}};
    CHECK(instrument_at_hand(check, draft) == "VG-2");
    draft.place = check.places.front().name;
    CHECK(instrument_at_hand(check, draft) == wrench);
}

TEST_CASE("who reads again without a word of what was done stays at the check, and is told so") {
    SavedOne one;
    one.world.job->checks[0].uncorrected = 1;
    one.save(one.world.job->checks[0].id, "yes", measure::Outcome::Conforms);
    CHECK(one.draft.check == one.world.job->checks[0].id);
}

TEST_CASE("a correction that was forgotten goes to the place that once failed") {
    desk::CheckView check = testing::torque_check();
    for (auto& place : check.places) place.outcome = measure::Outcome::Conforms;
    check.uncorrected = 1;
    const auto reading = [](const char* entry, const std::string& place, measure::Outcome outcome, const char* corrects) {
        desk::ReadingView view;
        view.entry = entry;
        view.place = place;
        view.outcome = outcome;
        view.corrects = corrects;
        return view;
    };
    const std::string first = check.places[0].name, third = check.places[2].name;
    check.readings = {reading("a", first, measure::Outcome::DoesNotConform, ""), reading("b", third, measure::Outcome::DoesNotConform, ""),
                      reading("c", first, measure::Outcome::Conforms, "a"), reading("d", third, measure::Outcome::Conforms, "")};
    RunDraft draft;
    go_to_check(draft, check);
    draft.place = first;
    go_to_fault(draft, check);
    CHECK(draft.place == third);
}

TEST_CASE("a correction half written about a reading that failed before comes back, unless it was told from elsewhere") {
    for (const int uncorrected : {1, 0}) {
        auto check = testing::sample_world().job->checks[0];
        check.outcome = measure::Outcome::Conforms;
        check.uncorrected = uncorrected;
        RunDraft draft;
        draft.job = "J-1";
        draft.from_before = KeptNumber{"J-1", check.id, "", "", "", "", "correcting", {{"done", "packed the foot"}}};
        go_to_check(draft, check);
        CHECK(draft.mode == (uncorrected > 0 ? RunMode::Correcting : RunMode::Reading));
        CHECK(draft.done == (uncorrected > 0 ? "packed the foot" : ""));
    }
}

TEST_CASE("who comes back to a check without a figure finds its instrument still chosen") {
    World world = testing::sample_world();
    RunDraft draft;
    draft.job = world.job->row.job;
    const auto& checks = world.job->checks;
    const auto check = std::find_if(checks.begin(), checks.end(), [](const auto& each) { return each.id == "test-pressure"; });
    draft.from_before = KeptNumber{draft.job, "test-pressure", "", "", "", ""};
    go_to_check(draft, *check);
    CHECK(draft.instrument == "PG-1");
}
