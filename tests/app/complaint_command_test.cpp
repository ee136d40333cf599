#include "app/testing.hpp"

namespace wm::app {

using testing::check_fields;
using testing::Shell;

TEST_CASE("a complaint goes from the call to a visit to its end by the command line") {
    Shell shell;
    const auto job = shell.open_job();
    const auto none = shell.json({"complaint", job});
    check_fields(none, {"job", "place", "complaints", "symptoms", "weights"});
    CHECK(none["complaints"].empty());
    const auto told = shell.json({"complaint", job, "--symptom", "no-water", "--words", "Nothing this morning", "--air=-6 °C"});
    check_fields(told, {"complaint", "job", "place", "symptom", "symptom_words", "words", "at_once", "told_at", "since", "air", "by", "age_days", "open",
                        "survey", "commissioning", "revisit", "causes", "repeat", "cause", "found", "check", "closed_at", "proved_in"});
    CHECK(told["open"] == true);
    CHECK(told["air"] == "-6 °C");
    CHECK(told["commissioning"] == job);
    REQUIRE_FALSE(told["causes"].empty());
    check_fields(told["causes"][0], {"failure", "mode", "share", "looks_like", "cause", "reasons", "checks", "look_also"});
    CHECK(told["causes"][0]["failure"] == "frost-cold-feed");
    CHECK(shell.json({"complaint", "list"})["complaints"][0]["complaint"] == told["complaint"]);
    CHECK(shell.run({"complaint", job}).data.find("No water comes") != std::string::npos);

    const auto visit = shell.json({"complaint", job, "--revisit"});
    CHECK(visit["after"] == job);
    CHECK(shell.json({"complaint", job})["complaints"][0]["revisit"] == visit["job"]);
    CHECK(shell.json({"job", "show", visit["job"]})["notes"].size() == 1);
    CHECK(shell.run({"complaint", job, "--close", "frost-cold-feed", "--words", "Insulated.", "--check", "frost-cold-feed"}).code == 1);
    CHECK(shell.run({"complaint", job, "--close", "frost-cold-feed", "--words", "Insulated.", "--proved-in", visit["job"]}).code == 1);
    CHECK(shell.run({"enter", visit["job"], "svc-complaints", "No water since Monday"}).code == 0);
    const auto closed = shell.json({"complaint", job, "--close", "frost-cold-feed", "--words", "Insulated.", "--proved-in", visit["job"]});
    CHECK(closed["open"] == false);
    CHECK(closed["cause"] == "frost-cold-feed");
    CHECK(closed["proved_in"] == visit["job"]);
    CHECK(shell.json({"attest", "--journal"})["genuine"] == true);
}

TEST_CASE("what a complaint lacks is said with what to do, and nothing is written") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"complaint"}).code == 2);
    CHECK(shell.run({"complaint", job, "--symptom", "gremlins"}).code == 3);
    CHECK(shell.run({"complaint", job, "--symptom", "other"}).code == 2);
    CHECK(shell.run({"complaint", job, "--symptom", "wet", "--since", "soon"}).code == 3);
    CHECK(shell.run({"complaint", job, "--symptom", "wet", "--close", "other"}).code == 2);
    CHECK(shell.run({"complaint", job, "--revisit"}).code == 1);
    CHECK(shell.run({"complaint", "J-none"}).code == 3);
    CHECK(shell.json({"complaint", "list"})["complaints"].empty());
    CHECK(shell.run({"complaint", "list"}).talk == "Nobody has complained.\n");
    CHECK(shell.run({"complaint", job}).talk.find("no-hot-water") != std::string::npos);
}

TEST_CASE("the week lists who called, with what could have caught it") {
    Shell shell;
    const auto job = shell.open_job();
    CHECK(shell.run({"enter", job, "coll-tilt", "41°"}).code == 1);
    (void)shell.json({"complaint", job, "--symptom", "bill"});
    const auto week = shell.json({"week", "2026-W48"});
    REQUIRE(week["complaints"].size() == 1);
    check_fields(week["complaints"][0], {"complaint", "job", "symptom", "told_on", "air", "open", "age_days", "survey", "commissioning", "unproved"});
    CHECK(week["complaints"][0]["unproved"][0]["check"] == "coll-tilt");
    CHECK(shell.run({"week", "2026-W48"}).data.find("Customers called") != std::string::npos);
}

}  // namespace wm::app
