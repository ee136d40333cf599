#include "demo/robot.hpp"

#include "demo/testing.hpp"
#include "photo/intake.hpp"

namespace wm::demo {

TEST_CASE("the dice of a seed fall the same way on every machine") {
    // SplitMix64 from 0: first two numbers as published with the generator (from memory).
    Dice dice{0};
    CHECK(dice.next() == 0xE220A8397B1DCDAFULL);
    CHECK(dice.next() == 0x6E789E6AA1B965F4ULL);
    Dice again{0};
    CHECK(again.next() == 0xE220A8397B1DCDAFULL);
}

TEST_CASE("shares and means come out near what was asked for") {
    Dice dice{7};
    int heads = 0;
    double sum = 0.0;
    double squares = 0.0;
    int counts = 0;
    std::vector<int> picked(3, 0);
    for (int i = 0; i < 10000; ++i) {
        heads += dice.happens(0.3) ? 1 : 0;
        const double x = dice.normal(5.0, 2.0);
        sum += x;
        squares += (x - 5.0) * (x - 5.0);
        counts += dice.poisson(2.0);
        ++picked[dice.pick({1.0, 0.0, 3.0})];
    }
    // Five standard errors of 10,000 draws.
    CHECK(heads == doctest::Approx(3000).epsilon(0.08));
    CHECK(sum / 10000 == doctest::Approx(5.0).epsilon(0.02));
    CHECK(squares / 10000 == doctest::Approx(4.0).epsilon(0.08));
    CHECK(counts / 10000.0 == doctest::Approx(2.0).epsilon(0.04));
    CHECK(picked[1] == 0);
    CHECK(picked[0] == doctest::Approx(2500).epsilon(0.09));
}

TEST_CASE("what is entered rightly conforms and what is entered wrongly does not, check by check") {
    testing::DemoDesk own;
    const auto job = own.desk().carry_out(
        desk::OpenJob{"commissioning", facts_text(demo_house(), demo_crews().front()), "demo facts", "", false});
    REQUIRE_MESSAGE(job, (job ? "" : told(job.error())));
    const auto first = own.desk().job_view(*job);
    REQUIRE(first);
    Dice dice{3};
    for (const auto& planned : first->checks) {
        const auto view = own.desk().job_view(*job);
        for (const auto& check : view->checks) {
            // Nobody can know the sun of a day that is still to come.
            if (check.id != planned.id || !check.applies || check.id == "day-after") continue;
            for (const auto wish : {Wish::Wrong, Wish::Right}) {
                desk::Outcome worst = desk::Outcome::Conforms;
                for (const auto& entry : entries_for(check, wish, dice)) {
                    desk::TakeReading reading{*job, check.id, entry.place, entry.text, "", {}, "", "", "", "", true};
                    if (entry.photo) {
                        reading.photo = picture_of(check.id, 1);
                        reading.photo_name = "a.jpg";
                    }
                    own.clock.pass(1000);
                    const auto answers = own.desk().carry_out(reading);
                    CAPTURE(check.id);
                    CAPTURE(entry.place);
                    CAPTURE(entry.text);
                    REQUIRE_MESSAGE(answers, (answers ? "" : told(answers.error())));
                    CAPTURE(answers->back().why);
                    if (wish == Wish::Right) CHECK(answers->back().place_outcome == desk::Outcome::Conforms);
                    if (answers->back().place_outcome != desk::Outcome::Conforms) worst = answers->back().place_outcome;
                }
                const bool words_only = check.kind == "text";
                if (wish == Wish::Wrong && check.form != desk::EntryForm::None && check.form != desk::EntryForm::Signature &&
                    !words_only) {
                    CAPTURE(check.id);
                    CHECK(worst != desk::Outcome::Conforms);
                }
            }
        }
    }
}

TEST_CASE("a demo picture is a photo like any other, and no two are alike") {
    const auto one = photo::take_in(picture_of("nut-marks", 1), "1.jpg");
    const auto two = photo::take_in(picture_of("nut-marks", 2), "2.jpg");
    REQUIRE(one);
    REQUIRE(two);
    CHECK(one->jpeg != two->jpeg);
    CHECK(picture_of("nut-marks", 1) == picture_of("nut-marks", 1));
}

}  // namespace wm::demo
