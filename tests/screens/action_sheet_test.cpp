// Corrective actions on the week screen.
#include "screens/action_sheet.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void open_sheet(Glass& glass) {
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/first/findings/1 Thimblegate"));
    REQUIRE(glass.press("week/jobs of/act"));
    (void)glass.frame();
}

}  // namespace

TEST_CASE("an action is decided once cause, words, remedy, owner and day are there") {
    Glass glass{1280.0F, 1600.0F, {}};
    open_sheet(glass);
    CHECK_FALSE(glass.spot("week/action/decide").enabled);
    REQUIRE(glass.press("week/action/fields/nobody showed how it is done"));
    auto& intent = glass.drafts.week.action.intent;
    CHECK(intent.cause == "skill");
    intent.cause_words = "No collars in the van.";
    intent.remedy = "Put collars in the van.";
    intent.owner = "Odrun";
    (void)glass.frame();
    CHECK_FALSE(glass.spot("week/action/decide").enabled);
    intent.due = "2027-03-18";
    (void)glass.frame();
    REQUIRE(glass.press("week/action/decide"));
    const auto* decided = glass.last_intent<desk::DecideAction>();
    REQUIRE(decided != nullptr);
    CHECK(decided->subject == "Thimblegate");
    CHECK(decided->remedy == "Put collars in the van.");
    CHECK_FALSE(glass.drafts.week.action.is_open);
}

TEST_CASE("going back from the sheet decides nothing") {
    Glass glass{1280.0F, 1600.0F, {}};
    open_sheet(glass);
    REQUIRE(glass.press("week/action/back"));
    CHECK(glass.last_intent<desk::DecideAction>() == nullptr);
    CHECK_FALSE(glass.drafts.week.action.is_open);
}

TEST_CASE("an effect that can be told is put on record at a touch") {
    Glass glass{1280.0F, 1600.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/first/actions/A-1A2B-0001/check"));
    const auto* check = glass.last_intent<desk::CheckEffect>();
    REQUIRE(check != nullptr);
    CHECK(check->action == "A-1A2B-0001");
    CHECK(check->after_days == 30);
}
