// Sign-off.
#include "screens/sign_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void draw_on_pad(Glass& glass) {
    const Rect pad = glass.spot("sign/pad").rect;
    glass.put_finger(pad.x + 20.0F, pad.y + 30.0F);
    for (int i = 1; i <= 5; ++i) {
        glass.world.moment.monotonic_s += 0.02;
        glass.move_finger(pad.x + 20.0F + 30.0F * static_cast<float>(i), pad.y + 40.0F);
    }
    glass.lift_finger();
}

}  // namespace

TEST_CASE("blockers are listed and lead to their checks") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::SignOff;
    glass.world.job->times = {"Times given by hand, not read from a clock: 3 of the 40 entries of this job."};
    (void)glass.frame();
    CHECK(glass.says(glass.world.job->times.front()));
    CHECK(glass.shows("sign/state/go to discharge-pipe"));
    CHECK(glass.shows("sign/state/go to test-hold"));
    CHECK(glass.says("The handover will be restricted:"));
    CHECK(glass.says("Read this to the customer:"));
    REQUIRE(glass.press("sign/state/go to test-hold"));
    CHECK(glass.drafts.screen == Screen::Run);
    CHECK(glass.drafts.run.check == "test-hold");
}

TEST_CASE("strokes on the pad and a name give a signature in millimetres and milliseconds") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->blockers.clear();
    glass.drafts.screen = Screen::SignOff;
    (void)glass.frame();
    draw_on_pad(glass);
    draw_on_pad(glass);
    (void)glass.press("sign/sign");
    CHECK(glass.last_intent<desk::Sign>() == nullptr);
    REQUIRE(glass.press("sign/name"));
    glass.type("Tindo Quellaby");
    REQUIRE(glass.press("sign/sign"));
    const auto* sign = glass.last_intent<desk::Sign>();
    REQUIRE(sign != nullptr);
    CHECK(sign->role == desk::Signer::Crew);
    CHECK(sign->name == "Tindo Quellaby");
    REQUIRE(sign->strokes.size() == 2);
    REQUIRE(sign->strokes[0].size() >= 5);
    CHECK(sign->strokes[0].front().ms == 0);
    // The pointer stands on whole pixels, a quarter of a millimetre here.
    CHECK(sign->strokes[0].front().x_mm == doctest::Approx(20.0 / 3.78).epsilon(0.06));
    CHECK(sign->strokes[0].back().ms == doctest::Approx(100).epsilon(0.25));
    CHECK(sign->strokes[1].front().ms >= sign->strokes[0].back().ms);
}

TEST_CASE("wiping takes all strokes away") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::SignOff;
    (void)glass.frame();
    draw_on_pad(glass);
    CHECK_FALSE(glass.drafts.sign.strokes.empty());
    REQUIRE(glass.press("sign/clear"));
    CHECK(glass.drafts.sign.strokes.empty());
}

TEST_CASE("a customer who does not sign is recorded with the reason and no strokes") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->blockers.clear();
    glass.drafts.screen = Screen::SignOff;
    REQUIRE(glass.press("sign/customer"));
    REQUIRE(glass.press("sign/name"));
    glass.type("Imber");
    REQUIRE(glass.press("sign/refuses"));
    REQUIRE(glass.press("sign/reason"));
    glass.type("wants to wait");
    REQUIRE(glass.press("sign/sign"));
    const auto* sign = glass.last_intent<desk::Sign>();
    REQUIRE(sign != nullptr);
    CHECK(sign->role == desk::Signer::Customer);
    CHECK(sign->refused_because == "wants to wait");
    CHECK(sign->strokes.empty());
}

TEST_CASE("handing over is asked of the desk, which decides") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->signatures = {{"crew", "Tindo Quellaby", "", ""}, {"customer", "Ansa Velmorrin", "", ""}};
    glass.drafts.screen = Screen::SignOff;
    REQUIRE(glass.press("sign/hand over"));
    CHECK(glass.last_intent<desk::HandOver>() != nullptr);
}

TEST_CASE("after the handover there is no pad: who signed, what became of the message, and the report as a file") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->signatures = {{"crew", "Tindo Quellaby", "2027-03-04T11:02:00+02:00", ""}, {"customer", "Ansa Velmorrin", "", "wants to wait"}};
    glass.world.job->handed_over_at = "2027-03-04 11:04";
    glass.world.messages.resize(1);
    glass.world.messages[0].job = glass.world.job->row.job;
    glass.world.messages[0].to = "ansa@example.org";
    glass.world.messages[0].state_words = "waits for the network";
    glass.drafts.screen = Screen::SignOff;
    (void)glass.frame();
    CHECK_FALSE(glass.shows("sign/pad"));
    CHECK_FALSE(glass.shows("sign/hand over"));
    CHECK(glass.says("Crew: Tindo Quellaby, 2027-03-04 11:02"));
    CHECK(glass.says("Customer did not sign: wants to wait"));
    CHECK(glass.says("Message to ansa@example.org: waits for the network"));
    REQUIRE(glass.press("sign/save report"));
    const auto* wanted = glass.last<SaveReport>();
    REQUIRE(wanted != nullptr);
    CHECK(wanted->job == glass.world.job->row.job);
    glass.world.report_file = "/data/reports/" + wanted->job + ".pdf";
    (void)glass.frame();
    CHECK(glass.says("The report is the file /data/reports/"));
    // What came in later is signed for again.
    glass.world.job->supplement_due = true;
    (void)glass.frame();
    CHECK(glass.shows("sign/pad"));
}

TEST_CASE("what restricts a handover is named as people know it") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->restrictions = {"coll-tilt"};
    glass.drafts.screen = Screen::SignOff;
    (void)glass.frame();
    CHECK(glass.says("• Tilt of the collector"));
    CHECK_FALSE(glass.says("• coll-tilt"));
}

TEST_CASE("a refused signature is still on the pad, and is gone once it stands in the record") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->blockers.clear();
    glass.drafts.screen = Screen::SignOff;
    (void)glass.frame();
    glass.drafts.sign.name = "Tindo Quellaby";
    glass.drafts.sign.strokes = {{{1, 1, 0}, {5, 3, 90}}};
    REQUIRE(glass.press("sign/sign"));
    REQUIRE(glass.last_intent<desk::Sign>() != nullptr);
    glass.world.problem = Problem{"57 checks stand in the way.", "job", "Do them first.", ProblemKind::Refused};
    (void)glass.frame();
    CHECK(glass.drafts.sign.name == "Tindo Quellaby");
    CHECK(glass.drafts.sign.strokes.size() == 1);
    glass.world.problem.reset();
    glass.world.job->signatures = {{"crew", "Tindo Quellaby", "2027-03-04T09:11:00+02:00", ""}};
    (void)glass.frame();
    CHECK(glass.drafts.sign.name.empty());
    CHECK(glass.drafts.sign.strokes.empty());
}

TEST_CASE("nobody signs over what stands in the way, and nothing is handed over unsigned; leave is given before all else") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::SignOff;
    glass.drafts.sign.name = "Ansa Velmorrin";
    glass.drafts.sign.strokes = {{{1, 1, 0}, {5, 3, 90}}};
    glass.drafts.sign.role = desk::Signer::Customer;
    (void)glass.frame();
    CHECK_FALSE(glass.spot("sign/sign").enabled);
    CHECK_FALSE(glass.spot("sign/hand over").enabled);
    glass.world.job->checks.front().form = desk::EntryForm::Signature;
    (void)glass.frame();
    CHECK(glass.spot("sign/sign").enabled);
    glass.world.job->signatures = {{"crew", "a", "", ""}, {"customer", "b", "", ""}};
    (void)glass.frame();
    CHECK(glass.spot("sign/hand over").enabled);
}

TEST_CASE("after the crew comes the customer's turn, and who signs again is shown") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->blockers.clear();
    glass.drafts.screen = Screen::SignOff;
    glass.drafts.sign.name = "Tindo";
    glass.drafts.sign.sent = true;
    desk::SignatureView crew;
    crew.role = "crew";
    crew.name = "Tindo";
    glass.world.job->signatures = {crew};
    (void)glass.frame();
    CHECK(glass.drafts.sign.role == desk::Signer::Customer);
    CHECK(glass.drafts.sign.name.empty());
    desk::SignatureView customer;
    customer.role = "customer";
    customer.name = "Imber";
    desk::SignatureView again = crew;
    again.name = "Sabbe";
    glass.world.job->signatures = {crew, customer, again};
    glass.drafts.sign = {};
    glass.drafts.sign.name = "Sabbe";
    glass.drafts.sign.sent = true;
    (void)glass.frame();
    CHECK(glass.drafts.sign.name.empty());
    CHECK(glass.drafts.sign.role == desk::Signer::Crew);
    CHECK(glass.spot("sign/crew").small == "signed: Sabbe");
}

TEST_CASE("what can hurt someone and is not done is named at the signatures, and one touch away") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->blockers.clear();
    glass.drafts.screen = Screen::SignOff;
    (void)glass.frame();
    CHECK(glass.says("Not done, though it can hurt someone"));
    REQUIRE(glass.press("sign/state/go to fall-protection"));
    (void)glass.frame();
    CHECK(glass.drafts.run.check == "fall-protection");
}

TEST_CASE("after a restart the pad is for who has not signed yet") {
    Glass glass{1280.0F, 800.0F, {}};
    desk::SignatureView crew;
    crew.role = "crew";
    crew.name = "Tindo Quellaby";
    glass.world.job->signatures = {crew};
    glass.drafts.screen = Screen::SignOff;
    static_cast<void>(glass.frame());
    CHECK(glass.drafts.sign.role == desk::Signer::Customer);
    // Whoever chose it stays there.
    glass.drafts.sign.role = desk::Signer::Crew;
    static_cast<void>(glass.frame());
    CHECK(glass.drafts.sign.role == desk::Signer::Crew);
}

TEST_CASE("a key that cannot sign yet says what is missing") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::SignOff;
    glass.world.job->blockers.clear();
    glass.drafts.sign.role = desk::Signer::Crew;
    (void)glass.frame();
    CHECK(glass.spot("sign/sign").small == "the name is missing");
    glass.drafts.sign.name = "Tindo Quellaby";
    (void)glass.frame();
    CHECK(glass.spot("sign/sign").small == "nothing is drawn yet");
    glass.drafts.sign.strokes = {{{1, 1, 0}, {5, 3, 90}}};
    (void)glass.frame();
    CHECK(glass.spot("sign/sign").small.empty());
    CHECK(glass.spot("sign/sign").enabled);
}
